import { createHash } from 'node:crypto';
import { createReadStream, createWriteStream } from 'node:fs';
import { open, rename, rm } from 'node:fs/promises';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { createGunzip, createGzip } from 'node:zlib';
import { z } from 'zod';

/** First line: what the file is, and which tables follow in which order. */
export const Header = z.object({
  format: z.literal('panelday-backup'),
  formatVersion: z.literal(1),
  madeAt: z.iso.datetime(),
  provider: z.enum(['sqlite', 'postgresql']),
  migrations: z.array(z.string()),
  tables: z.array(
    z.object({
      name: z.string().regex(/^\w+$/),
      columns: z.array(
        z.object({
          name: z.string().regex(/^\w+$/),
          type: z.enum(['text', 'integer', 'bigint', 'boolean', 'bytes']),
        }),
      ),
    }),
  ),
});
export type Header = z.infer<typeof Header>;

const CellInFile = z.union([z.string(), z.number(), z.boolean(), z.null()]);
/** Number of the table in the header, then its cells. */
const RowLine = z.tuple([z.int().nonnegative(), z.array(CellInFile)]);

/** Last line: what should have been read by then. */
const Footer = z.object({
  sums: z.array(z.object({ rows: z.int().nonnegative(), sum: z.string() })),
  /** SHA-256 of all lines before. */
  sha256: z.string(),
});
export type Footer = z.infer<typeof Footer>;

/** A file that is no backup, or is not whole. */
export class DamagedBackup extends Error {
  constructor(what: string) {
    super(`the backup cannot be used: ${what}`);
    this.name = 'DamagedBackup';
  }
}

/**
 * Writes lines of JSON, compressed, into a file beside and gives it its name once the disk has it: under that name there is
 * never half a backup. Only its owner may read it.
 */
export async function writeLines(path: string, lines: AsyncIterable<unknown>, footer: () => object): Promise<void> {
  const part = `${path}.part`;
  try {
    await pipeline(Readable.from(texts(lines, footer)), createGzip(), createWriteStream(part, { mode: 0o600 }));
    const file = await open(part, 'r+');
    await file.sync();
    await file.close();
    await rename(part, path);
  } catch (error) {
    await rm(part, { force: true });
    throw error;
  }
}

async function* texts(lines: AsyncIterable<unknown>, footer: () => object): AsyncGenerator<string> {
  const hash = createHash('sha256');
  for await (const line of lines) {
    const text = `${JSON.stringify(line)}\n`;
    hash.update(text);
    yield text;
  }
  yield `${JSON.stringify({ ...footer(), sha256: hash.digest('hex') })}\n`;
}

/** What a file brings, in order: its header, rows, and the footer, which is there only when all before it is as it was written. */
export type Line =
  | { readonly header: Header }
  | { readonly table: number; readonly row: readonly z.infer<typeof CellInFile>[] }
  | { readonly footer: Footer };

/** @throws DamagedBackup */
export async function* readLines(path: string): AsyncGenerator<Line> {
  const hash = createHash('sha256');
  let number = 0;
  let whole = false;
  for await (const text of textLines(path)) {
    if (whole) throw new DamagedBackup('something follows its end');
    number += 1;
    const line = lineOf(text, number);
    if ('footer' in line) {
      if (line.footer.sha256 !== hash.digest('hex')) throw new DamagedBackup('its contents were changed');
      whole = true;
    } else {
      hash.update(`${text}\n`);
    }
    yield line;
  }
  if (!whole) throw new DamagedBackup('its end is missing');
}

/** @throws DamagedBackup when the file cannot be read or unpacked to its end */
async function* textLines(path: string): AsyncGenerator<string> {
  const unpacked = createGunzip();
  const done = pipeline(createReadStream(path), unpacked).catch((error: NodeJS.ErrnoException) => error);
  let rest = '';
  try {
    for await (const piece of unpacked.setEncoding('utf8')) {
      const lines = (rest + piece).split('\n');
      rest = lines.pop()!;
      yield* lines;
    }
  } catch (error) {
    throw new DamagedBackup(`it cannot be read (${(error as NodeJS.ErrnoException).code})`);
  } finally {
    unpacked.destroy();
    await done;
  }
  if (rest !== '') throw new DamagedBackup('its end is missing');
}

function lineOf(text: string, number: number): Line {
  const value = parsed(text, number);
  if (number === 1) {
    const header = Header.safeParse(value);
    if (!header.success) throw new DamagedBackup('it does not begin as a backup of this program does');
    return { header: header.data };
  }
  if (Array.isArray(value)) {
    const line = RowLine.safeParse(value);
    if (!line.success) throw new DamagedBackup(`line ${number} is no row`);
    return { table: line.data[0], row: line.data[1] };
  }
  const footer = Footer.safeParse(value);
  if (!footer.success) throw new DamagedBackup(`line ${number} is neither a row nor the end`);
  return { footer: footer.data };
}

function parsed(text: string, number: number): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw new DamagedBackup(`line ${number} is not JSON`);
  }
}
