import { randomUUID } from 'node:crypto';
import type { AddressInfo } from 'node:net';
import type { FastifyBaseLogger } from 'fastify';
import { buildApp } from '../../../src/api/app.ts';
import { privateLog } from '../../../src/private-log.ts';
import { createAuthorship } from '../../../src/shop/access/authorship.ts';
import { nobody } from '../../../src/shop/access/principal.ts';
import type { ShopDeps } from '../../../src/shop/deps.ts';
import { createInProcessPlanner } from '../../../src/shop/planning/in-process-planner.ts';
import { migrate } from '../../../src/store/migration/migrate.ts';
import { openStore } from '../../../src/store/open-store.ts';
import type { Store } from '../../../src/store/store.ts';
import { monday9 } from '../../api/shop-documents.ts';
import type { OpenApiDocument } from './document.ts';

export interface ServedApp {
  readonly store: Store;
  readonly port: number;
  readonly document: OpenApiDocument;
  /** What the server logged of its own failures: for whoever mends them. */
  readonly failures: string[];
  close(): Promise<void>;
}

/**
 * The API on a port of this machine, over a new database, at a time that stands still. Whoever asks administers it, so that
 * requests get past the door to what lies behind. Plans are made where they are asked for, with a small budget, and never by themselves.
 */
export async function servedApp(databaseUrl: string): Promise<ServedApp> {
  await migrate({ databaseUrl });
  const authorship = createAuthorship();
  const clock = () => monday9;
  const store = await openStore({ databaseUrl, clock, author: authorship.current });
  const deps: ShopDeps = {
    store,
    planner: createInProcessPlanner(),
    clock,
    newId: () => randomUUID(),
    seed: 7,
    budget: { promptWork: 4_000, thoroughWork: 8_000, timeLimitMs: 5_000 },
    replanner: { ask: () => {}, improve: () => {}, settled: async () => {}, close: async () => {} },
    log: { info: () => {}, warn: () => {}, error: () => {} },
  };
  const failures: string[] = [];
  const logger = privateLog('error', { write: (line: string) => void failures.push(line) });
  const app = await buildApp({
    logger: logger as unknown as FastifyBaseLogger,
    shop: deps,
    // Months are planned on other threads in earnest, for minutes: here none is found.
    months: { plan: async () => null },
    version: '0.0.0-hostile',
    whoAsks: {
      principalOf: async () => ({ ...nobody, who: 'account:test', name: 'Test', administrator: true }),
      forget: () => {},
    },
    authorship,
  });
  await app.listen({ port: 0, host: '127.0.0.1' });
  const document = JSON.parse((await app.inject({ url: '/v1/openapi.json' })).body) as OpenApiDocument;
  return {
    store,
    port: (app.server.address() as AddressInfo).port,
    document,
    failures,
    async close() {
      await app.close();
      await deps.planner.close();
      await store.close();
    },
  };
}
