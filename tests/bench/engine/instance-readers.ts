import type { Lag, Mode, Operation, Problem } from '../../../src/engine/problem/problem.ts';

/** The file extensions that can be read, each with its reader. */
export const READERS: Readonly<Record<string, (text: string) => Problem>> = {
  '.jss': readJobShop,
  '.fjs': readFlexibleJobShop,
  '.sm': readProject,
  '.sch': readProjectWithTimeLags,
};

/** `jobs machines`, then per job pairs `machine duration`, machines from 0. */
export function readJobShop(text: string): Problem {
  const [[, machines] = [], ...rows] = numberRows(text);
  return shop(
    rows.map((row) => {
      const operations: Mode[][] = [];
      for (let k = 0; k + 1 < row.length; k += 2) operations.push([modeOn(row[k]!, row[k + 1]!)]);
      return operations;
    }),
    machines!,
  );
}

/** `jobs machines average`, then per job the operation count, and per operation a count of pairs `machine duration`, machines from 1. */
export function readFlexibleJobShop(text: string): Problem {
  const [[jobs, machines] = [], ...rows] = numberRows(text);
  return shop(
    rows.slice(0, jobs).map((row) => {
      let at = 0;
      const next = () => row[at++]!;
      return Array.from({ length: next() }, () =>
        Array.from({ length: next() }, () => {
          const machine = next() - 1;
          return modeOn(machine, next());
        }),
      );
    }),
    machines!,
  );
}

/** PSPLIB single-mode projects (Kolisch and Sprecher 1996). */
export function readProject(text: string): Problem {
  const section = (title: string) => {
    const lines = text.slice(text.indexOf(title)).split('\n').slice(1);
    return numberRows(
      lines
        .slice(
          0,
          lines.findIndex((line) => line.startsWith('***')),
        )
        .join('\n'),
    );
  };
  const successors = section('PRECEDENCE RELATIONS:').map((row) => row.slice(3).map((successor) => successor - 1));
  const requests = section('REQUESTS/DURATIONS:').map(([, , duration, ...amounts]) => ({
    duration: duration!,
    amounts,
  }));
  const capacities = section('RESOURCEAVAILABILITIES:')[0]!;
  const lags = successors.flatMap((list, from) => list.map((to) => lag(from, 'end', to, 0)));
  const horizon = requests.reduce((sum, { duration }) => sum + duration, 0);
  return project(requests, capacities, lags, horizon);
}

/** ProGen/max projects (Schwindt 1998): lags from start to start; a negative one is a maximum lag backwards. */
export function readProjectWithTimeLags(text: string): Problem {
  const lines = text
    .trim()
    .split('\n')
    .map((line) => line.replaceAll('[', ' ').replaceAll(']', ' ').trim().split(/\s+/).map(Number));
  const activities = lines[0]![0]! + 2;
  const lags: Lag[] = [];
  const longest = new Array<number>(activities).fill(0);
  for (let from = 0; from < activities; from++) {
    const [, , count, ...rest] = lines[1 + from]!;
    for (let k = 0; k < count!; k++) {
      const min = rest[count! + k]!;
      lags.push(lag(from, 'start', rest[k]!, min));
      longest[from] = Math.max(longest[from]!, min);
    }
  }
  const requests = lines.slice(1 + activities, 1 + 2 * activities).map(([, , duration, ...amounts]) => ({
    duration: duration!,
    amounts,
  }));
  // If there is a schedule at all there is one in which nothing waits longer than every duration and lag in a row.
  const horizon = requests.reduce((sum, { duration }, k) => sum + Math.max(duration, longest[k]!), 0);
  const problem = project(requests, lines[1 + 2 * activities]!, lags, horizon);
  const operations = problem.operations.map((operation, k) => (k === 0 ? { ...operation, deadline: 0 } : operation));
  return { ...problem, operations };
}

function lag(from: number, edge: 'start' | 'end', to: number, min: number): Lag {
  return { from: { operation: from, edge }, to: { operation: to, edge: 'start' }, min };
}

function modeOn(machine: number, duration: number): Mode {
  return { work: duration, uses: [{ resource: machine, amount: 1 }] };
}

function shop(jobs: readonly (readonly (readonly Mode[])[])[], machines: number): Problem {
  const operations: Operation[] = [];
  const lags: Lag[] = [];
  let horizon = 0;
  for (const [job, list] of jobs.entries()) {
    for (const [k, modes] of list.entries()) {
      if (k > 0) lags.push(lag(operations.length - 1, 'end', operations.length, 0));
      operations.push({ name: `${job}.${k}`, job, modes, pausable: false, presence: 'always' });
      horizon += Math.max(...modes.map((mode) => mode.work));
    }
  }
  return plain(operations, new Array<number>(machines).fill(1), lags, horizon, jobs.length);
}

function project(
  requests: readonly { readonly duration: number; readonly amounts: readonly number[] }[],
  capacities: readonly number[],
  lags: readonly Lag[],
  horizon: number,
): Problem {
  const operations = requests.map(
    ({ duration, amounts }, k): Operation => ({
      name: `${k}`,
      job: 0,
      modes: [
        {
          work: duration,
          uses: amounts.map((amount, resource) => ({ resource, amount })).filter(({ amount }) => amount > 0),
        },
      ],
      pausable: false,
      presence: 'always',
    }),
  );
  return plain(operations, capacities, lags, horizon, 1);
}

function plain(
  operations: readonly Operation[],
  capacities: readonly number[],
  lags: readonly Lag[],
  horizon: number,
  jobs: number,
): Problem {
  return {
    horizon,
    now: 0,
    progresses: [],
    resources: capacities.map((capacity, k) => ({ name: `${k}`, capacity, kind: 'equipment' })),
    budgets: [],
    places: [],
    zones: [],
    airLabels: [],
    airExclusions: [],
    jobs: Array.from({ length: jobs }, (_, k) => ({ name: `${k}`, stays: [], release: 0 })),
    operations,
    stays: [],
    lags,
    branches: [],
    sameCrew: [],
    airSpans: [],
    stills: [],
    takenPlaces: [],
    takenResources: [],
    tiers: ['makespan'],
  };
}

/** Lines that hold only numbers. */
function numberRows(text: string): number[][] {
  return text
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => /^-?\d[-\d.\s]*$/.test(line))
    .map((line) => line.split(/\s+/).map(Number));
}
