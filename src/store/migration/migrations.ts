import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { MigrationList } from '@prisma/schema-engine-wasm/schema_engine_bg';
import type { Provider } from '../provider.ts';

/** Where schemas and migrations lie; the same distance from the sources as from what is compiled of them. */
function folderOf(provider: Provider): string {
  return fileURLToPath(new URL(`../../../prisma/${provider}/`, import.meta.url));
}

export async function readSchema(provider: Provider): Promise<string> {
  return readFile(join(folderOf(provider), 'schema.prisma'), 'utf8');
}

/** A provider's migrations in order; `upTo` stops after that many. */
export async function readMigrations(provider: Provider, upTo = Number.POSITIVE_INFINITY): Promise<MigrationList> {
  const baseDir = join(folderOf(provider), 'migrations');
  const entries = await readdir(baseDir, { withFileTypes: true });
  const names = entries
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name)
    .sort()
    .slice(0, upTo);
  return {
    baseDir,
    lockfile: { path: 'migration_lock.toml', content: `provider = "${provider}"\n` },
    shadowDbInitScript: '',
    migrationDirectories: await Promise.all(
      names.map(async (name) => ({
        path: name,
        migrationFile: {
          path: 'migration.sql',
          content: { tag: 'ok' as const, value: await readFile(join(baseDir, name, 'migration.sql'), 'utf8') },
        },
      })),
    ),
  };
}
