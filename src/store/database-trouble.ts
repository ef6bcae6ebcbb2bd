import { databaseErrors } from './connection/database-error.ts';

/** What is wrong with a database that cannot do what it is asked, though nothing is wrong with what is asked. */
export type DatabaseTrouble = 'unreachable' | 'full' | 'readOnly' | 'overloaded';

/**
 * By code: SQLite's primary and extended result codes by name (sqlite.org/rescode.html), PostgreSQL's SQLSTATE (its manual, appendix A), the
 * system's errno, Prisma's error reference and the kinds of its driver adapters.
 */
const BY_CODE: readonly [RegExp, DatabaseTrouble][] = [
  [/^(SQLITE_FULL|13|53100|ENOSPC|EFBIG|EDQUOT)$/, 'full'],
  [/^(SQLITE_READONLY.*|8|264|520|776|1032|1288|1544|25006|EROFS|EACCES)$/, 'readOnly'],
  // A file that cannot be written or opened any more is most often a disk that is gone.
  [/^(SQLITE_IOERR.*|SQLITE_CANTOPEN.*|10|14|58030)$/, 'unreachable'],
  [/^(08...|57P0[1-5]|ECONN.*|ETIMEDOUT|EPIPE|ENOTFOUND|EAI_AGAIN|EHOSTUNREACH|ENETUNREACH)$/, 'unreachable'],
  [/^(P1001|P1002|P1017|DatabaseNotReachable|ConnectionClosed|SocketTimeout|TlsConnectionError)$/, 'unreachable'],
  [/^(SQLITE_BUSY.*|SQLITE_LOCKED.*|53...|55P03|57014|P1008|P2024|P2028|TooManyConnections)$/, 'overloaded'],
];

/** What the drivers say without a code. */
const BY_MESSAGE: readonly [RegExp, DatabaseTrouble][] = [
  [
    /Connection terminated|timeout exceeded when trying to connect|connection error and is not queryable/,
    'unreachable',
  ],
  [/Query read timeout/, 'overloaded'],
  [/the connection to the database is closed/, 'unreachable'],
];

/** Whether an error tells of trouble with the database itself, which passes or is somebody else's to mend; null for any other error. */
export function databaseTrouble(error: unknown): DatabaseTrouble | null {
  for (const { code } of databaseErrors(error)) {
    const found = BY_CODE.find(([pattern]) => pattern.test(code));
    if (found !== undefined) return found[1];
  }
  for (let each: unknown = error; each instanceof Error; each = each.cause) {
    const { message } = each;
    const found = BY_MESSAGE.find(([pattern]) => pattern.test(message));
    if (found !== undefined) return found[1];
  }
  return null;
}
