import { NEVER } from '../calendar/never.ts';
import { WorkedPieces } from '../calendar/worked-pieces.ts';
import type { AirSpan, Job, Lag, Operation, Problem, SameCrew, Still } from '../problem/problem.ts';
import { branchCombinations } from './branch-combinations.ts';
import { compileStages } from './compile-stages.ts';
import type { CrewModel, JobModel, LagModel, ModeModel, OperationModel, SpanModel } from './job-model.ts';
import { orderOperations } from './operation-order.ts';
import type { ShopModel } from './shop-model.ts';
import { soonest } from './soonest.ts';
import { tailsTo } from './tails.ts';

/** What belongs to one job, as it stands in the problem's arrays. */
interface Parts {
  readonly operations: number[];
  readonly lags: { readonly lag: Lag; readonly index: number }[];
  readonly spans: AirSpan[];
  readonly stills: Still[];
  readonly crews: SameCrew[];
  readonly branches: (readonly (readonly number[])[])[];
}

/** Where each of the problem's arrays had ended before the jobs to compile were added; zeros for a whole problem. */
export interface Extent {
  readonly jobs: number;
  readonly operations: number;
  readonly lags: number;
  readonly branches: number;
  readonly sameCrew: number;
  readonly airSpans: number;
  readonly stills: number;
}

export const NOTHING: Extent = { jobs: 0, operations: 0, lags: 0, branches: 0, sameCrew: 0, airSpans: 0, stills: 0 };

export function extentOf(problem: Problem): Extent {
  return {
    jobs: problem.jobs.length,
    operations: problem.operations.length,
    lags: problem.lags.length,
    branches: problem.branches.length,
    sameCrew: problem.sameCrew.length,
    airSpans: problem.airSpans.length,
    stills: problem.stills.length,
  };
}

/** Compiles the jobs that `problem` has beyond `known`. */
export function compileJobs(shop: ShopModel, problem: Problem, known: Extent = NOTHING): JobModel[] {
  const parts: Parts[] = [];
  for (let j = known.jobs; j < problem.jobs.length; j++) {
    parts.push({ operations: [], lags: [], spans: [], stills: [], crews: [], branches: [] });
  }
  const partsOf = (operation: number) => parts[problem.operations[operation]!.job - known.jobs]!;
  for (let i = known.operations; i < problem.operations.length; i++) partsOf(i).operations.push(i);
  for (let i = known.lags; i < problem.lags.length; i++) {
    const lag = problem.lags[i]!;
    if (problem.operations[lag.from.operation]!.job !== problem.operations[lag.to.operation]!.job) {
      throw new RangeError(`lags[${i}] joins operations of two jobs; a shop's lags stay inside one job`);
    }
    partsOf(lag.from.operation).lags.push({ lag, index: i });
  }
  for (let i = known.airSpans; i < problem.airSpans.length; i++) {
    partsOf(problem.airSpans[i]!.from.operation).spans.push(problem.airSpans[i]!);
  }
  for (let i = known.stills; i < problem.stills.length; i++) {
    partsOf(problem.stills[i]!.from.operation).stills.push(problem.stills[i]!);
  }
  for (let i = known.sameCrew; i < problem.sameCrew.length; i++) {
    partsOf(problem.sameCrew[i]!.first).crews.push(problem.sameCrew[i]!);
  }
  for (let i = known.branches; i < problem.branches.length; i++) {
    const alternatives = problem.branches[i]!.alternatives;
    const member = alternatives.find((alternative) => alternative.length > 0)?.[0];
    if (member !== undefined) partsOf(member).branches.push(alternatives);
  }
  return parts.map((part, k) => compileJob(shop, problem, known.jobs + k, part));
}

function compileJob(shop: ShopModel, problem: Problem, index: number, parts: Parts): JobModel {
  const job = problem.jobs[index]!;
  const order = orderOperations(
    problem,
    index,
    parts.operations,
    parts.lags.map(({ lag }) => lag),
  );
  const local = new Map(order.operations.map((operation, position) => [operation, position]));
  const at = (operation: number) => local.get(operation)!;
  const lags: LagModel[] = parts.lags.map(({ lag, index }) => ({
    index,
    from: at(lag.from.operation),
    fromEnd: lag.from.edge === 'end',
    to: at(lag.to.operation),
    toEnd: lag.to.edge === 'end',
    min: lag.min,
    max: lag.max ?? NEVER,
    remedy: (lag.remedy ?? []).map(at),
  }));
  const edges = (span: AirSpan | Still) => ({
    begun: problem.operations[span.from.operation]!.fixed?.by === 'fact',
    from: at(span.from.operation),
    fromEnd: span.from.edge === 'end',
    to: at(span.to.operation),
    toEnd: span.to.edge === 'end',
  });
  const spans: SpanModel[] = parts.spans.map((span) => ({
    label: span.label,
    stage: job.stays.indexOf(span.stay),
    ...edges(span),
  }));
  const stills: SpanModel[] = parts.stills.map((still) => ({ label: -1, stage: -1, ...edges(still) }));
  const crews: CrewModel[] = parts.crews.map((link) => ({
    first: at(link.first),
    second: at(link.second),
    held: link.held,
  }));
  const size = order.operations.length;
  const lagsOf = byOperation(size, lags, ({ from, to }) => [from, to]);
  const spansOf = byOperation(size, spans, ({ from, to }) => [from, to]);
  const crewsOf = byOperation(size, crews, ({ first, second }) => [first, second]);
  const branches = parts.branches.map((alternatives) => alternatives.map((alternative) => alternative.map(at)));
  const branched = new Set(branches.flat(2));
  const operations = order.operations.map((operation, position) =>
    compileOperation(shop, problem, job, operation, order.stageOf.get(operation)!, {
      inBranch: branched.has(position),
      lags: lagsOf[position]!,
      spans: spansOf[position]!,
      crews: crewsOf[position]!,
    }),
  );
  const stages = compileStages(shop, problem, job, operations);
  const arrival = job.arrival === undefined ? -1 : at(job.arrival);
  const handover = job.handover === undefined ? -1 : at(job.handover);
  const ready = job.ready === undefined ? -1 : at(job.ready);
  const isFact = (operation: number) => operation >= 0 && operations[operation]!.fact;
  const inShop = isFact(arrival) || stages.some((stage) => stage.fixedFrom >= 0 || isFact(stage.move));
  return {
    index,
    name: job.name,
    operations,
    stages,
    spans,
    stills,
    crews,
    branches,
    combinations: branchCombinations(operations, stages, branches),
    lags,
    release: job.release,
    dropOffOpen: job.dropOffOpen ? shop.intervalSet(job.dropOffOpen) : null,
    pickupOpen: job.pickupOpen ? shop.intervalSet(job.pickupOpen) : null,
    arrival,
    handover,
    ready,
    promiseAt: job.promise?.at ?? NEVER,
    promiseWeight: job.promise?.weight ?? 0,
    dueAt: job.due?.at ?? NEVER,
    dueWeight: job.due?.weight ?? 0,
    inShop,
    soonest: inShop ? soonest(operations, shop.now) : null,
    fixed: stages.some((stage) => stage.fixedPlace >= 0) || operations.some((operation) => operation.fixing !== 'open'),
    toPickup: handover >= 0 ? tailsTo(operations, handover, 'start') : tailsTo(operations, ready, 'end'),
    toReady: tailsTo(operations, ready, 'end'),
    leastMinutes: stages.reduce((sum, stage) => sum + stage.leastMinutes, 0),
  };
}

/** For each operation, in their order, the ties that have it at either end. */
function byOperation<T>(size: number, ties: readonly T[], endsOf: (tie: T) => readonly [number, number]): T[][] {
  const lists: T[][] = Array.from({ length: size }, () => []);
  for (const tie of ties) {
    const [one, other] = endsOf(tie);
    lists[one]!.push(tie);
    if (other !== one) lists[other]!.push(tie);
  }
  return lists;
}

function compileOperation(
  shop: ShopModel,
  problem: Problem,
  job: Job,
  index: number,
  stage: number,
  ties: Pick<OperationModel, 'inBranch' | 'lags' | 'spans' | 'crews'>,
): OperationModel {
  const operation: Operation = problem.operations[index]!;
  const modes = shop.modes(operation.modes);
  const { byCrew, leastMinutes } = shop.outline(modes);
  const fixed = operation.fixed;
  const window = index === job.arrival ? job.dropOffOpen : index === job.handover ? job.pickupOpen : undefined;
  const mode = fixed?.mode === undefined ? null : modes[fixed.mode]!;
  return {
    index,
    name: operation.name,
    stage,
    inStay: operation.stay !== undefined,
    modes,
    byCrew,
    pausable: operation.pausable,
    leastFirstPiece: operation.leastFirstPiece ?? 0,
    longestPause: operation.longestPause ?? NEVER,
    release: operation.release ?? 0,
    deadline: operation.deadline ?? NEVER,
    optional: operation.presence === 'optional',
    fixing: fixed === undefined ? 'open' : mode === null ? 'start' : 'pinned',
    fact: fixed?.by === 'fact',
    fixedStart: fixed?.start ?? -1,
    fixedMode: fixed?.mode ?? -1,
    fixedEnd: fixed?.end ?? (mode === null ? -1 : endOfMode(mode, fixed!.start)),
    startIn: window ? shop.intervalSet(window) : null,
    ...ties,
    leastMinutes,
  };
}

const scratch = new WorkedPieces();

function endOfMode(mode: ModeModel, start: number): number {
  return scratch.ofWork(mode.calendar, mode.budget, start, mode.work, NEVER);
}
