import { providerOf } from '../provider.ts';
import { type Header, writeLines } from './backup-file.ts';
import { openContents } from './open-contents.ts';
import { Summing, type TableSum } from './table-sum.ts';

export interface BackedUp {
  readonly tables: readonly (TableSum & { readonly name: string })[];
}

/**
 * Writes everything that a database holds at one moment into a file, while servers go on writing to the database. The same
 * file fits both databases.
 */
export async function writeBackup(options: { databaseUrl: string; path: string; now: Date }): Promise<BackedUp> {
  const contents = await openContents(options.databaseUrl, 'read');
  try {
    const tables = await contents.tables();
    const sums = tables.map(() => new Summing());
    const header: Header = {
      format: 'panelday-backup',
      formatVersion: 1,
      madeAt: options.now.toISOString(),
      provider: providerOf(options.databaseUrl),
      migrations: await contents.migrations(),
      tables: tables.map(({ name, columns }) => ({ name, columns: [...columns] })),
    };
    async function* lines() {
      yield header;
      for (const [number, table] of tables.entries()) {
        for await (const row of contents.rows(table)) {
          sums[number]!.add(row);
          yield [number, row];
        }
      }
    }
    await writeLines(options.path, lines(), () => ({ sums: sums.map(({ total }) => total) }));
    return { tables: tables.map(({ name }, number) => ({ name, ...sums[number]!.total })) };
  } finally {
    await contents.close();
  }
}
