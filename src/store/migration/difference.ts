import type { Client, Config, InStatement, ResultSet } from '@libsql/client';
import { PrismaLibSql } from '@prisma/adapter-libsql';
import { PrismaPg } from '@prisma/adapter-pg';
import {
  ColumnTypeEnum,
  type SqlMigrationAwareDriverAdapterFactory,
  type SqlResultSet,
} from '@prisma/driver-adapter-utils';
import pg from 'pg';
import { type Provider, providerOf } from '../provider.ts';
import { readMigrations } from './migrations.ts';
import { openSchemaEngine } from './schema-engine.ts';

/** Nothing is filtered from the engine's sight. */
const NO_FILTERS = { externalTables: [], externalEnums: [] };

const EMPTY = /^\s*(-- This is an empty migration\.\s*)?$/;

/**
 * The SQL that is missing between what the written migrations make and what `schema` says; null when nothing is.
 * Replays the migrations in the database given, which must be an empty one made for this.
 */
export async function migrationDifference(scratchUrl: string, schema: string): Promise<string | null> {
  const provider = providerOf(scratchUrl);
  const opened: pg.Client[] = [];
  const engine = await openSchemaEngine(schema, scratchAdapter(provider, scratchUrl, opened));
  try {
    const { stdout } = await engine.diff({
      from: { tag: 'migrations', ...(await readMigrations(provider)) },
      to: { tag: 'schemaDatamodel', files: [{ path: 'schema.prisma', content: schema }] },
      script: true,
      exitCode: null,
      filters: NO_FILTERS,
    });
    return stdout === null || EMPTY.test(stdout) ? null : stdout;
  } finally {
    engine.free();
    await Promise.all(opened.map((client) => client.end()));
  }
}

/** `opened` collects the connections, since the engine leaves those of its shadow database open. */
function scratchAdapter(provider: Provider, url: string, opened: pg.Client[]): SqlMigrationAwareDriverAdapterFactory {
  if (provider === 'sqlite') return new ScratchSqlite({ url });
  return new ScratchPostgres({
    connectionString: url,
    allowExitOnIdle: true,
    Client: class extends CatalogueClient {
      constructor(config?: string | pg.ClientConfig) {
        super(config);
        opened.push(this);
      }
    },
  });
}

/**
 * Uses the given database as the shadow: the adapter's own is in memory, of which each connection sees another. The
 * engine replays a migration as one statement, of which the driver would run the first and forget the rest.
 */
class ScratchSqlite extends PrismaLibSql {
  override connectToShadowDb(): ReturnType<PrismaLibSql['connect']> {
    return this.connect();
  }

  override createClient(config: Config): Client {
    const client = super.createClient(config);
    const execute = client.execute.bind(client) as (statement: InStatement) => Promise<ResultSet>;
    client.execute = (async (statement: InStatement) => {
      if (typeof statement === 'object' && /^\s*(--|CREATE|ALTER|DROP)/.test(statement.sql)) {
        await client.executeMultiple(statement.sql);
        return execute('SELECT 1');
      }
      return execute(statement);
    }) as Client['execute'];
    return client;
  }
}

/** Uses the given database as the shadow: the adapter's own way makes another and cannot drop it while it is connected. */
class ScratchPostgres extends PrismaPg {
  override async connect(): ReturnType<PrismaPg['connect']> {
    const adapter = await super.connect();
    const queryRaw = adapter.queryRaw.bind(adapter);
    adapter.queryRaw = async (query) => markedAsCharacter(await queryRaw(query));
    return adapter;
  }

  override connectToShadowDb(): ReturnType<PrismaPg['connect']> {
    return this.connect();
  }
}

const INTERNAL_CHAR_OID = 18;
const TEXT_OID = 25;
const MARK = '"char" ';

/** The catalogue's one-byte "char" columns, which the adapter has no type for, are read as text and marked by name. */
class CatalogueClient extends pg.Client {
  // biome-ignore lint/suspicious/noExplicitAny: pg overloads query eight ways; the pool calls it with a callback last
  override query(...given: any[]): any {
    const callback = given.at(-1);
    if (typeof callback === 'function') {
      given[given.length - 1] = (error: Error | null, result?: pg.QueryArrayResult) => {
        for (const field of result?.fields ?? []) {
          if (field.dataTypeID !== INTERNAL_CHAR_OID) continue;
          field.dataTypeID = TEXT_OID;
          field.name = MARK + field.name;
        }
        callback(error, result);
      };
    }
    return (super.query as (...all: unknown[]) => unknown)(...given);
  }
}

/** The marked columns under their own names, with the type that the engine looks for. */
function markedAsCharacter(result: SqlResultSet): SqlResultSet {
  result.columnNames.forEach((name, column) => {
    if (!name.startsWith(MARK)) return;
    result.columnNames[column] = name.slice(MARK.length);
    result.columnTypes[column] = ColumnTypeEnum.Character;
  });
  return result;
}
