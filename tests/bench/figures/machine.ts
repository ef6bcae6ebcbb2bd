import { cpus, loadavg, totalmem } from 'node:os';

/** What the figures were measured on, in one line. The load is that of the whole machine, this benchmark included. */
export function machine(): string {
  const processors = cpus();
  const load = loadavg().map((each) => each.toFixed(1));
  return [
    `${processors.length} cores (${processors[0]?.model.trim() || 'model unknown'})`,
    `${Math.round(totalmem() / 2 ** 30)} GiB`,
    `Node ${process.versions.node}`,
    `load average ${load.join(' ')}`,
  ].join(', ');
}
