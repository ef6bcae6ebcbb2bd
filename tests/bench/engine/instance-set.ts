import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { extname, join } from 'node:path';
import { READERS } from './instance-readers.ts';

export interface Instance {
  readonly set: string;
  readonly name: string;
  readonly path: string;
  /** Best lower bound and best makespan known, or that there is no schedule; absent when the folder does not say. */
  readonly known?: { readonly lower: number; readonly upper: number } | 'unsat';
  /** Instances are dealt in turn to the half that parameters were tuned on and the half that was kept apart. */
  readonly tuning: boolean;
}

/** The instances of a folder: each sub-folder is a set; `best-known.csv` gives bounds as `set,instance,lower,upper`. */
export function readInstances(folder: string, only: string | undefined, limit: number): Instance[] {
  const known = readKnown(join(folder, 'best-known.csv'));
  const sets = readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory() && (only === undefined || only.split(',').includes(entry.name)))
    .map((entry) => entry.name)
    .sort();
  return sets.flatMap((set) =>
    readdirSync(join(folder, set))
      .filter((name) => READERS[extname(name)] !== undefined)
      .sort((a, b) => a.localeCompare(b, 'en', { numeric: true }))
      .slice(0, limit)
      .map((name, k): Instance => {
        const bounds = known.get(`${set}/${name}`);
        return { set, name, path: join(folder, set, name), tuning: k % 2 === 0, ...(bounds && { known: bounds }) };
      }),
  );
}

function readKnown(path: string): Map<string, NonNullable<Instance['known']>> {
  const known = new Map<string, NonNullable<Instance['known']>>();
  if (!existsSync(path)) return known;
  for (const line of readFileSync(path, 'utf8').trim().split('\n').slice(1)) {
    const [set, instance, lower, upper] = line.split(',');
    if (lower === 'unsat' || upper === 'unsat') known.set(`${set}/${instance}`, 'unsat');
    else known.set(`${set}/${instance}`, { lower: Number(lower), upper: Number(upper) });
  }
  return known;
}
