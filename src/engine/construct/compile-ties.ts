import { NEVER } from '../calendar/never.ts';
import type { AirSpan, Job, Lag, Problem, SameCrew, Still } from '../problem/problem.ts';
import type { CrewModel, LagModel, SpanModel } from './job-model.ts';
import type { JobParts } from './job-parts.ts';

/** By its index in the problem, where each operation of a job stands in its planning order. */
export type Positions = ReadonlyMap<number, number>;

/** What ties the operations of a job to one another, in local indices. */
export interface JobTies {
  readonly lags: readonly LagModel[];
  readonly spans: readonly SpanModel[];
  readonly stills: readonly SpanModel[];
  readonly crews: readonly CrewModel[];
  /** By operation, those ties that have it at either end. */
  readonly of: readonly OperationTies[];
}

export interface OperationTies {
  readonly lags: readonly LagModel[];
  readonly spans: readonly SpanModel[];
  readonly crews: readonly CrewModel[];
}

export function compileTies(problem: Problem, job: Job, parts: JobParts, at: Positions): JobTies {
  const lags: LagModel[] = [];
  const spans: SpanModel[] = [];
  const stills: SpanModel[] = [];
  const crews: CrewModel[] = [];
  for (let k = 0; k < parts.lags.length; k++) lags.push(compileLag(parts.lags[k]!, parts.lagIndices[k]!, at));
  for (const span of parts.spans) {
    spans.push(compileSpan(problem, span, span.label, job.stays.indexOf(span.stay), at));
  }
  for (const still of parts.stills) stills.push(compileSpan(problem, still, -1, -1, at));
  for (const link of parts.crews) crews.push(compileCrew(link, at));
  return { lags, spans, stills, crews, of: byOperation(parts.operations.length, lags, spans, crews) };
}

function compileLag(lag: Lag, index: number, at: Positions): LagModel {
  return {
    index,
    from: at.get(lag.from.operation)!,
    fromEnd: lag.from.edge === 'end',
    to: at.get(lag.to.operation)!,
    toEnd: lag.to.edge === 'end',
    min: lag.min,
    max: lag.max ?? NEVER,
    remedy: lag.remedy === undefined ? [] : positionsOf(lag.remedy, at),
  };
}

function compileSpan(problem: Problem, span: AirSpan | Still, label: number, stage: number, at: Positions): SpanModel {
  return {
    label,
    stage,
    begun: problem.operations[span.from.operation]!.fixed?.by === 'fact',
    from: at.get(span.from.operation)!,
    fromEnd: span.from.edge === 'end',
    to: at.get(span.to.operation)!,
    toEnd: span.to.edge === 'end',
  };
}

function compileCrew(link: SameCrew, at: Positions): CrewModel {
  return { first: at.get(link.first)!, second: at.get(link.second)!, held: link.held };
}

/** Where each of some operations stands. */
export function positionsOf(operations: readonly number[], at: Positions): number[] {
  const positions: number[] = [];
  for (const operation of operations) positions.push(at.get(operation)!);
  return positions;
}

function byOperation(
  size: number,
  lags: readonly LagModel[],
  spans: readonly SpanModel[],
  crews: readonly CrewModel[],
): OperationTies[] {
  const ties: { lags: LagModel[]; spans: SpanModel[]; crews: CrewModel[] }[] = [];
  for (let i = 0; i < size; i++) ties.push({ lags: [], spans: [], crews: [] });
  for (const lag of lags) {
    ties[lag.from]!.lags.push(lag);
    if (lag.to !== lag.from) ties[lag.to]!.lags.push(lag);
  }
  for (const span of spans) {
    ties[span.from]!.spans.push(span);
    if (span.to !== span.from) ties[span.to]!.spans.push(span);
  }
  for (const crew of crews) {
    ties[crew.first]!.crews.push(crew);
    if (crew.second !== crew.first) ties[crew.second]!.crews.push(crew);
  }
  return ties;
}
