export interface Sample {
  readonly name: string;
  readonly labels: Readonly<Record<string, string>>;
  readonly value: number;
}

export interface Family {
  readonly name: string;
  readonly type: string;
  readonly help: string;
  readonly samples: Sample[];
}

const NAME = '[a-zA-Z_:][a-zA-Z0-9_:]*';
const LABELS = '[a-zA-Z_][a-zA-Z0-9_]*="(?:[^"\\\\\\n]|\\\\["\\\\n])*"';
const SAMPLE = new RegExp(`^(${NAME})(?:\\{((?:${LABELS})(?:,${LABELS})*)?,?\\})? (\\S+)(?: -?\\d+)?$`);

/**
 * Reads the Prometheus text format 0.0.4 strictly: HELP and TYPE once, before their samples, samples of a family together, no
 * series twice, histograms that add up. Source: Prometheus documentation, "Exposition formats", from memory.
 * @throws naming the line
 */
export function readExposition(text: string): Map<string, Family> {
  if (!text.endsWith('\n')) throw new Error('the last line does not end');
  const families = new Map<string, Family>();
  const helps = new Map<string, string>();
  const series = new Set<string>();
  let current: Family | undefined;
  for (const line of text.slice(0, -1).split('\n')) {
    if (line === '') continue;
    const help = new RegExp(`^# HELP (${NAME}) (.+)$`).exec(line);
    const type = new RegExp(`^# TYPE (${NAME}) (counter|gauge|histogram|summary|untyped)$`).exec(line);
    if (help !== null) {
      if (helps.has(help[1]!)) throw new Error(`HELP twice: ${line}`);
      helps.set(help[1]!, help[2]!);
    } else if (type !== null) {
      if (families.has(type[1]!)) throw new Error(`TYPE twice: ${line}`);
      current = { name: type[1]!, type: type[2]!, help: helps.get(type[1]!) ?? '', samples: [] };
      families.set(current.name, current);
    } else {
      const sample = readSample(line);
      const own = current !== undefined && namesOf(current).includes(sample.name);
      if (!own) throw new Error(`not of the family above: ${line}`);
      const key = line.slice(0, line.lastIndexOf(' '));
      if (series.has(key)) throw new Error(`the same series twice: ${line}`);
      series.add(key);
      current!.samples.push(sample);
    }
  }
  for (const family of families.values()) if (family.type === 'histogram') checkHistogram(family);
  return families;
}

function namesOf({ name, type }: Family): string[] {
  if (type === 'histogram') return ['_bucket', '_sum', '_count'].map((end) => `${name}${end}`);
  return type === 'summary' ? [name, `${name}_sum`, `${name}_count`] : [name];
}

function readSample(line: string): Sample {
  const found = SAMPLE.exec(line);
  if (found === null) throw new Error(`neither comment nor sample: ${line}`);
  const value = { '+Inf': Number.POSITIVE_INFINITY, '-Inf': Number.NEGATIVE_INFINITY }[found[3]!] ?? Number(found[3]);
  // Prometheus reads numbers as Go does, which takes NaN in any case.
  if (Number.isNaN(value) && !/^nan$/i.test(found[3]!)) throw new Error(`no number: ${line}`);
  const labels = Object.fromEntries(
    [...(found[2] ?? '').matchAll(/(\w+)="((?:[^"\\]|\\.)*)"/g)].map(([, name, text]) => [name!, text!]),
  );
  return { name: found[1]!, labels, value };
}

/** Buckets never fall, the last is +Inf and is the count. */
function checkHistogram({ name, samples }: Family): void {
  const of = (sample: Sample) => JSON.stringify(Object.entries(sample.labels).filter(([label]) => label !== 'le'));
  for (const count of samples.filter((sample) => sample.name === `${name}_count`)) {
    const buckets = samples.filter((sample) => sample.name === `${name}_bucket` && of(sample) === of(count));
    const rising = buckets.every((each, at) => at === 0 || each.value >= buckets[at - 1]!.value);
    const last = buckets.at(-1);
    if (!rising || last?.labels.le !== '+Inf' || last.value !== count.value) throw new Error(`${name} does not add up`);
  }
}
