import { type DestinationStream, type Logger, pino } from 'pino';

/** An error as it may be logged. */
export class Loggable {
  readonly type: string;
  readonly code?: string;
  readonly message: string;
  /** Where it was thrown: calls alone, without the message that an error's stack begins with. */
  readonly stack: string;
  readonly cause?: Loggable;

  constructor(error: unknown, words: readonly string[], depth = 0) {
    const { name, code, message, stack, cause, constructor: made } = (error ?? {}) as Error & { code?: unknown };
    this.type = typeof name === 'string' && name !== 'Error' ? name : (made?.name ?? typeof error);
    if (typeof code === 'string' || typeof code === 'number') this.code = String(code);
    this.message = ofDatabase(this.type, this.code) ? '(of the database; see the code)' : masked(message ?? '', words);
    this.stack = callsIn(stack ?? '', message ?? '');
    if (cause !== undefined && depth < DEEPEST_CAUSE) this.cause = new Loggable(cause, words, depth + 1);
  }
}

const DEEPEST_CAUSE = 4;

/** An error without personal data. `words`: texts that are not to be repeated. */
export function loggable(error: unknown, words: readonly string[] = []): Loggable {
  return error instanceof Loggable ? error : new Loggable(error, words);
}

/**
 * The server's log. Errors are written by their type, code and calls, with what may be a person's taken out of their
 * messages; a plan's violations by their rule, since their sentences name cars.
 */
export function privateLog(level: string, destination?: DestinationStream): Logger {
  return pino(
    {
      level,
      serializers: {
        err: (error: unknown) => loggable(error),
        violations: (all: readonly { readonly rule: string }[]) => all.map(({ rule }) => rule),
      },
      redact: { paths: PERSONAL.flatMap((field) => [field, `*.${field}`, `*.*.${field}`]), censor: '[…]' },
    },
    destination ?? pino.destination(1),
  );
}

/** Fields that are personal wherever they are logged. */
const PERSONAL = [
  'name',
  'customer',
  'phone',
  'email',
  'registration',
  'notes',
  'note',
  'password',
  'pin',
  'token',
  'authorization',
  'cookie',
];

/** A database's words repeat what it was given: a key that was there already, an argument of the wrong type. */
function ofDatabase(type: string, code = ''): boolean {
  return /^(Prisma|Libsql|DriverAdapter|DatabaseError)/.test(type) || /^(SQLITE_|P\d{4}$|[0-9A-Z]{5}$)/.test(code);
}

/** E-mail addresses, long numbers, text in quotation marks that is no plain word, and the words given. */
function masked(message: string, words: readonly string[]): string {
  let text = message;
  for (const word of [...words].sort((a, b) => b.length - a.length)) text = text.replaceAll(word, '[…]');
  return text
    .replace(/"[^"]*"|'[^']*'|`[^`]*`|“[^”]*”/g, (quoted) =>
      /^.[A-Za-z_$][\w$.]{0,40}.$/.test(quoted) ? quoted : '"[…]"',
    )
    .replace(/[^\s<>"',;:()]+@[^\s<>"',;:()]+/g, '[e-mail]')
    .replace(/(?<![\w-])\+?\d[\d\s()/.-]{5,}\d(?![\w-])/g, '[number]');
}

function callsIn(stack: string, message: string): string {
  const after = stack.indexOf(message) + message.length;
  return stack
    .slice(after)
    .split('\n')
    .filter((line) => /^\s+at /.test(line))
    .join('\n');
}
