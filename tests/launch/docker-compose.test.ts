import { existsSync, readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { parse } from 'yaml';
import { z } from 'zod';
import { readConfiguration } from '../../src/configuration.ts';

const root = new URL('../../', import.meta.url);

// The parts of the Compose specification (compose-spec.io) that the file uses; anything else is a slip of the pen.
const Service = z.strictObject({
  image: z.string().optional(),
  build: z.strictObject({ context: z.string(), dockerfile_inline: z.string() }).optional(),
  command: z.array(z.string()).optional(),
  depends_on: z
    .record(z.string(), z.strictObject({ condition: z.enum(['service_healthy', 'service_started']) }))
    .optional(),
  restart: z.enum(['no', 'always', 'on-failure', 'unless-stopped']).optional(),
  stop_grace_period: z
    .string()
    .regex(/^\d+s$/)
    .optional(),
  environment: z.record(z.string(), z.string()),
  volumes: z.array(z.string().regex(/^\w+:\/\S+$/)).optional(),
  ports: z.array(z.string().regex(/^127\.0\.0\.1:\d+:\d+$/)).optional(),
  healthcheck: z
    .strictObject({
      test: z.array(z.string()).min(2),
      interval: z.string().regex(/^\d+s$/),
      timeout: z.string().regex(/^\d+s$/),
      retries: z.int().positive(),
    })
    .optional(),
  deploy: z.strictObject({ replicas: z.int().positive() }).optional(),
});
const Compose = z.strictObject({
  'x-panelday': z.unknown(),
  'x-settings': z.unknown(),
  services: z.strictObject({ database: Service, server: Service, worker: Service }),
  volumes: z.record(z.string(), z.null()),
});

const file = Compose.parse(parse(readFileSync(new URL('docker-compose.yml', root), 'utf8'), { merge: true }));
const { database, server, worker } = file.services;

/** As the engine fills them in when nothing is set outside. */
function filledIn(environment: Record<string, string>): Record<string, string> {
  const filled = Object.entries(environment).map(([name, value]) => [
    name,
    value.replaceAll(/\$\{\w+:-([^}]*)\}/g, (_, byDefault: string) => byDefault),
  ]);
  return Object.fromEntries(filled);
}

it('the compose file has a PostgreSQL, a server and planning workers on one database, and every volume it names', () => {
  const urls = [server, worker].map(({ environment }) => new URL(filledIn(environment).DATABASE_URL!));
  expect(urls.map(({ hostname }) => hostname)).toEqual(['database', 'database']);
  const { POSTGRES_USER, POSTGRES_DB, POSTGRES_PASSWORD } = filledIn(database.environment);
  for (const { username, password, pathname } of urls) {
    expect([username, password, pathname]).toEqual([POSTGRES_USER, POSTGRES_PASSWORD, `/${POSTGRES_DB}`]);
  }
  expect(Object.keys(file.volumes)).toEqual(database.volumes!.map((volume) => volume.split(':')[0]));
});

it('its settings are ones that the server and the workers take, and both plan by the queue', () => {
  for (const { environment } of [server, worker]) {
    expect(readConfiguration(filledIn(environment)).PLANNING).toBe('queued');
  }
});

it('a setting of the compose file is one the configuration knows', () => {
  const source = readFileSync(new URL('src/configuration.ts', root), 'utf8');
  for (const name of [...Object.keys(server.environment), ...Object.keys(worker.environment)]) {
    expect(source).toMatch(new RegExp(`^    ${name}:`, 'm'));
  }
});

it('both wait until the database is well, and are given longer to stop than they take', () => {
  for (const { depends_on, stop_grace_period } of [server, worker]) {
    expect(depends_on).toEqual({ database: { condition: 'service_healthy' } });
    expect(Number.parseInt(stop_grace_period!, 10)).toBeGreaterThan(10);
  }
  expect(database.healthcheck!.test.join(' ')).toContain(`-U ${database.environment.POSTGRES_USER}`);
});

it('the programs they run are made of files that are there', () => {
  const programs = [server.build!.dockerfile_inline, ...(worker.command ?? [])].join(' ').match(/dist\/\w+\.js/g)!;
  expect([...new Set(programs)].sort()).toEqual(['dist/main.js', 'dist/worker.js']);
  for (const program of programs) {
    expect(existsSync(new URL(program.replace('dist/', 'src/').replace('.js', '.ts'), root))).toBe(true);
  }
});
