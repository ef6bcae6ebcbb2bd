import { explainDuration } from '../../trade/formulate/explain-duration.ts';
import { formulate } from '../../trade/formulate/formulate.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import type { JobId, OperationKey, ShopId, TechnicianId } from '../../trade/model/ids.ts';
import type { PlannedOperation } from '../../trade/model/plan.ts';
import type { WorkKind } from '../../trade/model/recipe.ts';
import type { BreakdownLine } from '../../trade/work-content/work-content.ts';
import type { ShopDeps } from '../deps.ts';
import { loadBook } from '../planning/load-book.ts';
import { WrongState } from '../problems/problems.ts';
import { foundJob } from '../records/found.ts';

/** Why an operation takes as long as it does. */
export interface OperationBreakdown {
  readonly operation: OperationKey;
  readonly kind: WorkKind;
  readonly label: string;
  /** Working minutes of the crew that is planned, else of the first that could; the lines add up to them. */
  readonly minutes: number;
  readonly lines: readonly BreakdownLine[];
  /** Its pieces in the current plan; null when it is not in the plan. */
  readonly plannedMinutes: number | null;
  readonly state: 'planned' | 'underWay' | 'paused' | 'finished';
  /** Only when a window lapses or a branch is taken. */
  readonly conditional: boolean;
}

/** "Why 3 h 40": every operation of an open job with the lines of its minutes. @throws NotFound, WrongState (closed) */
export async function jobBreakdown(
  deps: Pick<ShopDeps, 'store' | 'clock'>,
  input: { readonly shopId: ShopId; readonly jobId: JobId },
): Promise<readonly OperationBreakdown[]> {
  const { shopId, jobId } = input;
  await foundJob(deps.store, shopId, jobId);
  const book = await loadBook(deps.store, shopId, deps.clock());
  const job = book.jobs.find((each) => each.id === jobId);
  if (job === undefined) throw new WrongState('The job is closed; nothing of it is planned any more.', 'jobId');
  const formulation = formulate({ ...book, jobs: [job] });
  const reason = formulation.leftOut.find((each) => each.jobId === jobId)?.reason;
  if (reason !== undefined) throw new WrongState(`The job cannot be planned: ${reason}.`, 'jobId');
  const planned = new Map(
    book.previousPlan?.operations.filter((each) => each.jobId === jobId).map((each) => [each.operation, each]) ?? [],
  );
  return formulation.operations.flatMap(({ key, kind, label, state, role, part }, index): OperationBreakdown[] => {
    if (role === 'move' || part === 'done') return [];
    const inPlan = planned.get(key);
    const { minutes, lines } = explainDuration(formulation, index, modeOf(formulation, index, inPlan?.people));
    const conditional = role === 'remedy' || role === 'branch';
    return [{ operation: key, kind, label, minutes, lines, plannedMinutes: pieceMinutes(inPlan), state, conditional }];
  });
}

/** The mode with the people of the plan; the first, when there is no plan or nobody is needed. */
function modeOf(formulation: Formulation, index: number, planned: readonly TechnicianId[] | undefined): number {
  if (planned === undefined) return 0;
  const wanted = [...planned].sort().join(' ');
  const crews = formulation.problem.operations[index]?.modes.map(({ uses }) =>
    uses
      .flatMap(({ resource }) => formulation.people[resource] ?? [])
      .sort()
      .join(' '),
  );
  return Math.max(0, crews?.indexOf(wanted) ?? 0);
}

function pieceMinutes(operation: PlannedOperation | undefined): number | null {
  if (operation === undefined) return null;
  return operation.pieces.reduce((minutes, piece) => minutes + (piece.to - piece.from) / 60_000, 0);
}
