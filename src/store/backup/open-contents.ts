import { providerOf } from '../provider.ts';
import type { Contents } from './contents.ts';
import { postgresqlContents } from './postgresql-contents.ts';
import { sqliteContents } from './sqlite-contents.ts';

/** Opens a database's contents in a transaction of their own. */
export function openContents(databaseUrl: string, use: 'read' | 'write'): Promise<Contents> {
  return providerOf(databaseUrl) === 'sqlite' ? sqliteContents(databaseUrl, use) : postgresqlContents(databaseUrl, use);
}
