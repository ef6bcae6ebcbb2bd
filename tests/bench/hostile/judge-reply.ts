import type { Asked } from './make-request.ts';

export interface Replied {
  readonly status: number;
  readonly type: string;
  readonly headers: Readonly<Record<string, unknown>>;
  readonly body: string;
}

/** What only somebody who sees the inside could know: calls, files, the database's words, the names of what it is made of. */
const INSIDE: readonly RegExp[] = [
  /\n\s+at .+:\d+/,
  /node_modules|dist-bench|\/src\/|\/home\/|\/root\/|\/tmp\/|[A-Z]:\\/,
  /\.(ts|mjs|js):\d+/,
  /\b(SELECT|INSERT INTO|UPDATE|DELETE FROM) ["\w]/,
  /SQLITE_|SQLSTATE|syntax error at or near|violates .+ constraint|invalid byte sequence|Unicode escape/,
  /prisma|libsql|postgres|fastify|\bzod\b|FST_ERR|ZodError|TypeError|RangeError|ReferenceError/i,
  /Cannot read propert|is not a function|undefined is not|Unexpected token|ENOENT|ECONNREFUSED/,
  /passwordHash|secretHash|tokenHash|\$argon2/,
];

/** Replies in words of a programme or of a person, which are no problem documents: the customer's page, redirects. */
const HTML = /^text\/html/;

/** What is wrong with a reply; empty when nothing is. RFC 9457 says what an error looks like. */
export function faultsOf(asked: Asked, reply: Replied): string[] {
  const faults: string[] = [];
  if (reply.status >= 500) faults.push(`answers ${reply.status}`);
  if ('x-injected' in reply.headers) faults.push('lets a header be written by a parameter');
  if (reply.status >= 400 && !HTML.test(reply.type)) faults.push(...faultsOfProblem(reply));
  if (reply.status >= 400) {
    // What the caller sent may be quoted back to the caller.
    const sent = `${asked.url} ${safelyDecoded(asked.url)} ${String(asked.body ?? '')} ${Object.values(asked.headers).join(' ')}`;
    // As it reads once JSON's escapes are undone.
    const said = reply.body.replaceAll('\\n', '\n').replaceAll('\\"', '"').replaceAll('\\\\', '\\');
    for (const pattern of INSIDE) {
      const found = pattern.exec(said)?.[0];
      if (found !== undefined && !sent.includes(found)) faults.push(`tells of its inside: ${found.slice(0, 60)}`);
    }
  }
  return faults;
}

function faultsOfProblem({ status, type, body }: Replied): string[] {
  if (!/^application\/problem\+json/.test(type)) return [`an error of type ${type || 'none'}`];
  // The answer to HEAD has no body.
  if (body === '') return [];
  let problem: Record<string, unknown>;
  try {
    problem = JSON.parse(body) as Record<string, unknown>;
  } catch {
    return ['a problem that is not JSON'];
  }
  const faults: string[] = [];
  for (const member of ['type', 'title', 'detail']) {
    if (typeof problem[member] !== 'string' || problem[member] === '') faults.push(`a problem without ${member}`);
  }
  if (problem.status !== status) faults.push(`a problem whose status is not the reply's`);
  return faults;
}

function safelyDecoded(url: string): string {
  try {
    return decodeURIComponent(url);
  } catch {
    return '';
  }
}
