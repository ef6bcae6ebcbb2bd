import type { PlannedOperation } from '../../trade/model/plan.ts';
import type { WorkKind } from '../../trade/model/recipe.ts';
import type { Instant } from '../../trade/model/time.ts';

/** Parts of a visit that mean something to a customer. */
export type Stage =
  | 'arrival'
  | 'washing'
  | 'inspection'
  | 'answer'
  | 'polishing'
  | 'film'
  | 'interior'
  | 'coating'
  | 'curing'
  | 'checking'
  | 'pickup';

export interface StageLine {
  readonly stage: Stage;
  readonly progress: 'done' | 'now' | 'later';
}

/** Null: a customer need not hear of it. */
const stageOf: Record<WorkKind, Stage | null> = {
  intake: 'arrival',
  photographs: 'arrival',
  wheelsOff: null,
  wheels: 'washing',
  mineralRemover: 'washing',
  ironTarRemover: 'washing',
  foamWash: 'washing',
  contactWash: 'washing',
  maintenanceWash: 'washing',
  clay: 'washing',
  blowDry: 'washing',
  dryOut: null,
  cleanPaintInspection: 'inspection',
  customerAnswer: 'answer',
  mask: 'polishing',
  testSpot: 'polishing',
  compound: 'polishing',
  filmCheck: 'polishing',
  finishPolish: 'polishing',
  dustRemoval: 'polishing',
  stripWash: 'polishing',
  abrade: 'polishing',
  filmLaying: 'film',
  interior: 'interior',
  panelWipe: 'coating',
  solventFlash: 'coating',
  coatLayer: 'coating',
  layerWait: 'coating',
  glassCoat: 'coating',
  wheelCoat: 'coating',
  trimCoat: 'coating',
  cure: 'curing',
  lampCure: 'curing',
  wheelsOn: null,
  unmask: null,
  finalInspection: 'checking',
  afterCheck: 'checking',
  rework: 'checking',
  handover: 'pickup',
  move: null,
};

type Planned = Pick<PlannedOperation, 'kind' | 'start' | 'end' | 'state' | 'people'>;

/** Stages of a planned car in the order they come, and how far each is: one that has begun and is not over is `now`. */
export function stagesOf(operations: readonly Planned[], now: Instant): StageLine[] {
  const byStage = new Map<Stage, Planned[]>();
  for (const operation of [...operations].sort((a, b) => a.start - b.start || a.end - b.end)) {
    const stage = stageOf[operation.kind];
    if (stage !== null) byStage.set(stage, [...(byStage.get(stage) ?? []), operation]);
  }
  return [...byStage].map(([stage, parts]) => ({
    stage,
    progress: parts.every((part) => isOver(part, now))
      ? 'done'
      : parts.some((part) => part.state !== 'planned' || isOver(part, now))
        ? 'now'
        : 'later',
  }));
}

/** Whether nothing is left but to fetch the car: every operation before the handover is over. */
export function isReady(operations: readonly Planned[], now: Instant): boolean {
  const before = operations.filter((operation) => operation.kind !== 'handover' && operation.kind !== 'move');
  return before.length > 0 && before.every((operation) => isOver(operation, now));
}

/** Waiting that nobody attends ends by itself; everything else when somebody says so. */
function isOver(operation: Planned, now: Instant): boolean {
  if (operation.state === 'finished') return true;
  return operation.people.length === 0 && operation.state !== 'paused' && operation.end <= now;
}
