/** What the database itself said, dug out of Prisma's wrapping. */
export interface DatabaseError {
  /** SQLite's extended result code or PostgreSQL's SQLSTATE. */
  readonly code: string;
  readonly message: string;
}

interface Wrapped {
  code?: unknown;
  message?: unknown;
  cause?: unknown;
  kind?: unknown;
  rawCode?: unknown;
  originalCode?: unknown;
  originalMessage?: unknown;
  meta?: { driverAdapterError?: unknown };
}

/** Every code and message in the chain of causes, outermost first. */
export function databaseErrors(error: unknown): DatabaseError[] {
  const found: DatabaseError[] = [];
  const seen = new Set<unknown>();
  const visit = (value: unknown) => {
    if (typeof value !== 'object' || value === null || seen.has(value)) return;
    seen.add(value);
    const wrapped = value as Wrapped;
    const code = wrapped.originalCode ?? wrapped.rawCode ?? wrapped.code ?? wrapped.kind;
    if (code !== undefined)
      found.push({ code: String(code), message: String(wrapped.originalMessage ?? wrapped.message) });
    visit(wrapped.meta?.driverAdapterError);
    visit(wrapped.cause);
  };
  visit(error);
  return found;
}
