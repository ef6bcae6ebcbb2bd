import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads';
import { type Instance, readInstances } from './instance-set.ts';
import { falsehood, gapPercent, type Row, table } from './report.ts';
import { type Result, runInstance, type Terms } from './run-instance.ts';

if (isMainThread) await main();
else {
  const terms = workerData as Terms;
  parentPort!.on('message', async (path: string) => parentPort!.postMessage(await runInstance(path, terms)));
}

async function main(): Promise<void> {
  const { values } = parseArgs({
    options: {
      instances: { type: 'string' },
      seconds: { type: 'string', default: '10' },
      set: { type: 'string' },
      limit: { type: 'string' },
      /** Instances at once. */
      threads: { type: 'string', default: '1' },
      /** Threads for each instance. */
      portfolio: { type: 'string', default: '1' },
      seed: { type: 'string', default: '1' },
      clock: { type: 'string', default: 'wall' },
      json: { type: 'string' },
      verbose: { type: 'boolean', default: false },
    },
  });
  if (values.instances === undefined) {
    console.error(
      'usage: bench:engine --instances DIR --seconds S [--set NAME,NAME] [--limit N] [--threads T] [--portfolio P] [--seed N] [--clock wall|cpu] [--json FILE] [--verbose]',
    );
    process.exit(2);
  }
  const limit = values.limit === undefined ? Number.POSITIVE_INFINITY : Number(values.limit);
  const instances = readInstances(values.instances, values.set, limit);
  const terms: Terms = {
    seconds: Number(values.seconds),
    seed: Number(values.seed),
    processorTime: values.clock === 'cpu',
    portfolio: Number(values.portfolio),
  };
  if (terms.processorTime && (values.threads !== '1' || values.portfolio !== '1')) {
    throw new Error('--clock cpu needs --threads 1 and --portfolio 1');
  }
  const rows: Row[] = [];
  const queue = [...instances];
  let peak = 0;
  const lane = async () => {
    const worker = new Worker(new URL(import.meta.url), { workerData: terms });
    for (let instance = queue.shift(); instance !== undefined; instance = queue.shift()) {
      const result = await ask(worker, instance);
      rows.push({ instance, result });
      peak = Math.max(peak, process.memoryUsage.rss());
      if (values.verbose) console.log(line({ instance, result }));
    }
    await worker.terminate();
  };
  await Promise.all(Array.from({ length: Number(values.threads) }, lane));
  rows.sort((a, b) => instances.indexOf(a.instance) - instances.indexOf(b.instance));
  console.log(table(rows));
  console.log(`peak memory ${Math.round(peak / 1e6)} MB in ${values.threads} thread(s) of ${values.portfolio}`);
  const json = rows.map(({ instance: { set, name }, result: { violations: _, ...result } }) => ({
    set,
    instance: name,
    ...result,
  }));
  if (values.json !== undefined) writeFileSync(values.json, `${JSON.stringify(json, null, 1)}\n`);
  const lies = rows.flatMap((row) => falsehood(row) ?? []);
  for (const row of rows) {
    const lie = falsehood(row);
    if (lie !== undefined) console.error(`FALSE ${row.instance.set}/${row.instance.name}: ${lie}`);
  }
  process.exit(lies.length > 0 ? 1 : 0);
}

function ask(worker: Worker, instance: Instance): Promise<Result> {
  return new Promise((resolve, reject) => {
    worker.removeAllListeners('message').removeAllListeners('error');
    worker
      .once('message', resolve)
      .once('error', (error) => reject(new Error(`${instance.path}: ${error}`, { cause: error })));
    worker.postMessage(instance.path);
  });
}

function line(row: Row): string {
  const { instance, result } = row;
  const gap = gapPercent(row);
  return `${instance.set}/${instance.name} ${result.status} ${result.makespan} [${result.lower}] ${gap === undefined ? '' : `${gap.toFixed(2)}%`} ${result.seconds}s`;
}
