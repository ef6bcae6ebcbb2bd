import { parse } from 'csv-parse/sync';
import type { Recipe } from '../../trade/model/recipe.ts';
import type { Instant } from '../../trade/model/time.ts';
import { DIARY_COLUMNS } from './diary-columns.ts';
import { type DiaryFault, type DiaryLine, readDiaryLine } from './diary-line.ts';

export interface Diary {
  readonly lines: readonly DiaryLine[];
  readonly faults: readonly DiaryFault[];
}

/** A diary of more lines is brought in by parts: a plan of thousands of jobs at once helps nobody. */
const MOST_LINES = 1000;

/** Reads a diary; every bad cell is named with its line and column, and no line is left out silently. */
export function readDiary(csv: string, recipes: readonly Recipe[], zone: string, now: Instant): Diary {
  const header = csv.slice(0, csv.search(/\r?\n|$/));
  const delimiter = header.includes(';') ? ';' : ',';
  let records: { info: { lines: number }; record: string[] }[];
  try {
    records = parse(csv, {
      bom: true,
      delimiter,
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
      trim: true,
    }) as unknown as typeof records;
  } catch (error) {
    const line = (error as { lines?: number }).lines ?? 1;
    return { lines: [], faults: [{ line, column: '', text: `The file is not CSV: ${(error as Error).message}.` }] };
  }
  const [first, ...rest] = records;
  if (first === undefined) return { lines: [], faults: [{ line: 1, column: '', text: 'The file is empty.' }] };
  const names = first.record.map((name) => name.toLowerCase());
  const faults = headerFaults(names);
  if (rest.length > MOST_LINES) {
    faults.push({ line: 1, column: '', text: `${rest.length} lines; at most ${MOST_LINES} at a time.` });
  }
  if (faults.length > 0) return { lines: [], faults };
  const lines: DiaryLine[] = [];
  for (const { info, record } of rest) {
    const line = info.lines;
    if (record.length !== names.length) {
      faults.push({ line, column: '', text: `${record.length} cells where the header names ${names.length}.` });
      continue;
    }
    const cell = (name: string) => record[names.indexOf(name)] ?? '';
    const read = readDiaryLine(line, cell, recipes, zone, now);
    if (read.faults.length > 0) faults.push(...read.faults);
    else lines.push(read.line);
  }
  return { lines, faults };
}

function headerFaults(names: readonly string[]): DiaryFault[] {
  const known = DIARY_COLUMNS.map((column) => column.name);
  const faults: DiaryFault[] = [];
  for (const [index, name] of names.entries()) {
    if (!known.includes(name)) faults.push({ line: 1, column: name, text: `There is no column "${name}".` });
    else if (names.indexOf(name) !== index) faults.push({ line: 1, column: name, text: 'The column is there twice.' });
  }
  for (const { name, required } of DIARY_COLUMNS) {
    if (required && !names.includes(name)) faults.push({ line: 1, column: name, text: 'The column is missing.' });
  }
  return faults;
}
