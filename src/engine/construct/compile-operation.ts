import { NEVER } from '../calendar/never.ts';
import { WorkedPieces } from '../calendar/worked-pieces.ts';
import type { Job, Operation } from '../problem/problem.ts';
import type { OperationTies } from './compile-ties.ts';
import type { ModeModel, OperationModel } from './job-model.ts';
import type { ShopModel } from './shop-model.ts';

/** Operation `index` of the problem, done in `stage` of its job, with its modes looked up. */
export function compileOperation(
  shop: ShopModel,
  job: Job,
  operation: Operation,
  index: number,
  stage: number,
  inBranch: boolean,
  ties: OperationTies,
): OperationModel {
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
    inBranch,
    fixing: fixed === undefined ? 'open' : mode === null ? 'start' : 'pinned',
    fact: fixed?.by === 'fact',
    fixedStart: fixed?.start ?? -1,
    fixedMode: fixed?.mode ?? -1,
    fixedEnd: fixed?.end ?? (mode === null ? -1 : endOfMode(mode, fixed!.start)),
    startIn: window ? shop.intervalSet(window) : null,
    lags: ties.lags,
    spans: ties.spans,
    crews: ties.crews,
    leastMinutes,
  };
}

const scratch = new WorkedPieces();

function endOfMode(mode: ModeModel, start: number): number {
  return scratch.ofWork(mode.calendar, mode.budget, start, mode.work, NEVER);
}
