import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';

export interface DiaryFault {
  /** 1 is the header. */
  readonly line: number;
  readonly column: string;
  readonly text: string;
}

export interface DiaryImport {
  readonly dryRun: boolean;
  readonly lines: number;
  /** Empty unless something stops the import; then nothing was done. */
  readonly faults: readonly DiaryFault[];
  /** What the diary promises, and what a plan of it says. */
  readonly jobs: readonly {
    readonly line: number;
    /** Null on a dry run. */
    readonly jobId: JobId | null;
    readonly customer: string;
    readonly promisedPickupAt: Instant | null;
    readonly plannedReadyAt: Instant | null;
    readonly kept: boolean;
  }[];
  readonly cannotKeep: number;
}

/**
 * Brings in a diary as CSV, whole or not at all. Columns are documented in `DIARY_COLUMNS`.
 * A dry run reads, plans and reports, and stores nothing. @throws NotFound (shop), Busy
 */
export async function importDiary(
  deps: ShopDeps,
  input: { shopId: ShopId; csv: string; dryRun: boolean },
): Promise<DiaryImport> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}
