/** `wall`: what somebody waits. `cpu`: processor time of this process, for a machine that is busy with other work. */
export type ClockKind = 'wall' | 'cpu';

/** Milliseconds since some moment. */
export type Clock = () => number;

export function clockOf(kind: ClockKind): Clock {
  return kind === 'wall' ? () => performance.now() : processorMs;
}

function processorMs(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}
