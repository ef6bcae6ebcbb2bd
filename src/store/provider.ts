/** The two databases, by the names Prisma gives them. */
export type Provider = 'sqlite' | 'postgresql';

/** @throws when the URL belongs to neither */
export function providerOf(databaseUrl: string): Provider {
  if (databaseUrl.startsWith('file:')) return 'sqlite';
  if (/^postgres(ql)?:\/\//.test(databaseUrl)) return 'postgresql';
  throw new Error('databaseUrl must begin with "file:" or "postgres://"');
}
