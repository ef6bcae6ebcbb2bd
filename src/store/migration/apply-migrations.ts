import { createHash, randomUUID } from 'node:crypto';
import { createClient } from '@libsql/client';
import type { MigrationList } from '@prisma/schema-engine-wasm/schema_engine_bg';
import type { Provider } from '../provider.ts';

/** A server that is running on the file may be writing. */
const BUSY_TIMEOUT_MS = 5_000;
/** The number that Prisma's own engine locks while it migrates. */
const ADVISORY_LOCK = 72_707_369;

/** The table as Prisma's engine makes it, so that its own tools find what they know. */
const LOG = `CREATE TABLE IF NOT EXISTS "_prisma_migrations" (
  "id" VARCHAR(36) PRIMARY KEY NOT NULL,
  "checksum" VARCHAR(64) NOT NULL,
  "finished_at" TIMESTAMPTZ,
  "migration_name" VARCHAR(255) NOT NULL,
  "logs" TEXT,
  "rolled_back_at" TIMESTAMPTZ,
  "started_at" TIMESTAMPTZ NOT NULL DEFAULT CURRENT_TIMESTAMP,
  "applied_steps_count" INTEGER NOT NULL DEFAULT 0
)`;

/** A foreign key that points nowhere ends the transaction, as it would have outside. */
const KEYS_MUST_HOLD = `CREATE TEMP TABLE "_dangling" ("keys" INTEGER CHECK ("keys" = 0));
INSERT INTO "_dangling" SELECT count(*) FROM pragma_foreign_key_check;
DROP TABLE "_dangling";`;

interface Applied {
  readonly migration_name: string;
  readonly checksum: string;
  readonly finished_at: unknown;
  readonly rolled_back_at: unknown;
}

interface MigrationSession {
  applied(): Promise<Applied[]>;
  /** Runs statements in one transaction: all of them or, whatever happens to this process or the machine, none. */
  atOnce(script: string): Promise<void>;
  close(): Promise<void>;
}

/**
 * Applies what is not applied yet, each migration in one transaction together with the row that says so: a process that is killed
 * meanwhile leaves the database as it was before that migration, and the next start goes on. Prisma's engine runs the statements
 * one by one, and asks for a person after that. Returns the names.
 * @throws when the database has a migration that is not known here, another than it was, or one that was left half done
 */
export async function applyMigrations(
  provider: Provider,
  databaseUrl: string,
  { migrationDirectories }: MigrationList,
): Promise<string[]> {
  const session = provider === 'sqlite' ? await onSqlite(databaseUrl) : await onPostgresql(databaseUrl);
  try {
    await session.atOnce(LOG);
    const there = (await session.applied()).filter(({ rolled_back_at }) => rolled_back_at === null);
    const wanted = migrationDirectories.map(({ path, migrationFile: { content } }) => {
      const script = content.tag === 'ok' ? content.value : '';
      return { name: path, script, checksum: createHash('sha256').update(script).digest('hex') };
    });
    const known = new Map(wanted.map((each) => [each.name, each]));
    for (const { migration_name: name, checksum, finished_at } of there) {
      if (!known.has(name)) throw new Error(`the database has the migration ${name}, which this version does not know`);
      if (finished_at === null) throw new Error(`the migration ${name} was left half done: restore a backup`);
      if (known.get(name)!.checksum !== checksum) throw new Error(`the migration ${name} is another than was applied`);
    }
    const done = new Set(there.map((each) => each.migration_name));
    const left = wanted.filter(({ name }) => !done.has(name));
    for (const { name, script, checksum } of left) {
      const row = `INSERT INTO "_prisma_migrations"
        ("id", "checksum", "migration_name", "finished_at", "applied_steps_count")
        VALUES ('${randomUUID()}', '${checksum}', '${name}', CURRENT_TIMESTAMP, 1);`;
      await session.atOnce(`${script}\n;\n${row}`);
    }
    return left.map(({ name }) => name);
  } finally {
    await session.close();
  }
}

async function onSqlite(databaseUrl: string): Promise<MigrationSession> {
  const client = createClient({ url: databaseUrl });
  await client.execute(`PRAGMA busy_timeout = ${BUSY_TIMEOUT_MS}`);
  return {
    applied: async () => (await client.execute('SELECT * FROM "_prisma_migrations"')).rows as unknown as Applied[],
    // Within a transaction SQLite does not hear that foreign keys are off, which the rebuilding of a table needs.
    atOnce: (script) =>
      client.executeMultiple(`PRAGMA foreign_keys = OFF; BEGIN IMMEDIATE;\n${script};\n${KEYS_MUST_HOLD}\nCOMMIT;`),
    close: async () => client.close(),
  };
}

async function onPostgresql(databaseUrl: string): Promise<MigrationSession> {
  const { default: pg } = await import('pg');
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  // Given back with the connection, whatever becomes of this process.
  await client.query(`SELECT pg_advisory_lock(${ADVISORY_LOCK})`);
  return {
    applied: async () => (await client.query<Applied>('SELECT * FROM "_prisma_migrations"')).rows,
    atOnce: async (script) => void (await client.query(`BEGIN;\n${script};\nCOMMIT;`)),
    close: () => client.end(),
  };
}
