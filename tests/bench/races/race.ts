import { randomUUID } from 'node:crypto';
import { benchTokenOf } from '../api/client.ts';
import type { Attempt, Reader, Volley } from './attempts.ts';

export interface Outcome {
  readonly shopId: string;
  readonly attempt: Attempt;
  /** 0: no reply. */
  readonly status: number;
  /** Last part of the problem's type; empty for a success. */
  readonly problem: string;
  readonly detail: string;
  readonly jobId: string | null;
  /** Version of the job, or of the plan, that a success made. */
  readonly version: number | null;
  readonly fresh: boolean | null;
}

/** Longer than anything here takes: who has no reply by then has been forgotten. */
const LONGEST_MS = 90_000;

/** So many at once, and no more. */
export class Clients {
  #free: number;
  readonly #waiting: (() => void)[] = [];

  constructor(most: number) {
    this.#free = most;
  }

  async take<T>(work: () => Promise<T>): Promise<T> {
    if (this.#free > 0) this.#free -= 1;
    else await new Promise<void>((resolve) => this.#waiting.push(resolve));
    try {
      return await work();
    } finally {
      const next = this.#waiting.shift();
      if (next === undefined) this.#free += 1;
      else next();
    }
  }
}

/**
 * All volleys on one shop at once, each attempt at the next server in turn.
 * @param mayDie - whether the servers may be gone before what a volley begins with is read: then it is not fired
 */
export async function race(
  servers: readonly string[],
  shopId: string,
  volleys: readonly Volley[],
  clients: Clients,
  mayDie = false,
): Promise<Outcome[]> {
  let turn = 0;
  const next = () => `${servers[turn++ % servers.length]}/v1/shops/${shopId}`;
  const ask = async (method: string, path: string, body?: unknown, more: Record<string, string> = {}) => {
    const reply = await fetch(next() + path, {
      method,
      signal: AbortSignal.timeout(LONGEST_MS),
      headers: {
        authorization: `Bearer ${benchTokenOf(shopId)}`,
        ...(body === undefined ? {} : { 'content-type': 'application/json' }),
        ...more,
      },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    return { status: reply.status, tag: reply.headers.get('etag') ?? '', body: (await reply.json()) as Body };
  };
  const read: Reader = {
    tagOf: async (path) => (await ask('GET', path)).tag,
    post: async (path, body) => {
      const reply = await ask('POST', path, body, { 'idempotency-key': randomUUID() });
      if (reply.status >= 400) throw new Error(`${path}: ${reply.status} ${JSON.stringify(reply.body).slice(0, 400)}`);
      return { jobId: reply.body.job?.id ?? '', tag: reply.tag };
    },
  };
  const attempt = async (each: Attempt): Promise<Outcome> => {
    const nothing = { shopId, attempt: each, problem: '', detail: '', jobId: null, version: null, fresh: null };
    const more: Record<string, string> = {};
    if (each.method === 'POST') more['idempotency-key'] = each.key ?? randomUUID();
    if (each.ifMatch !== undefined) more['if-match'] = each.ifMatch;
    try {
      const { status, tag, body } = await ask(each.method, each.path, each.body, more);
      if (status >= 400) {
        return { ...nothing, status, problem: body.type?.split('/').at(-1) ?? '?', detail: body.detail ?? '' };
      }
      const version = tag === '' ? null : Number.parseInt(tag.slice(1), 10);
      return { ...nothing, status, jobId: body.job?.id ?? null, version, fresh: body.fresh ?? null };
    } catch (error) {
      return { ...nothing, status: 0, problem: 'no reply', detail: String(error) };
    }
  };
  const attemptsOf = async (volley: Volley) => {
    try {
      return await volley(read);
    } catch (error) {
      if (mayDie) return [];
      throw error;
    }
  };
  const fired = await Promise.all(
    volleys.map(async (volley) =>
      Promise.all((await attemptsOf(volley)).map((each) => clients.take(() => attempt(each)))),
    ),
  );
  return fired.flat();
}

interface Body {
  readonly type?: string;
  readonly detail?: string;
  readonly job?: { readonly id: string };
  readonly fresh?: boolean;
}
