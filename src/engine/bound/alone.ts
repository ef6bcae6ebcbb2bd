import { NEVER } from '../calendar/never.ts';
import { Book } from '../construct/book.ts';
import { EarliestFit } from '../construct/earliest-fit.ts';
import type { JobModel, OperationModel } from '../construct/job-model.ts';
import type { ShopModel } from '../construct/shop-model.ts';
import { DistinctModes } from './distinct-modes.ts';

/**
 * The earliest start and end of every operation that is always there, or in a branch, of one job in an otherwise empty shop,
 * when its car comes at `from` or later: own minimum lags, own facts, the order of the stays, the moves it cannot do
 * without, everybody's hours; each operation takes the mode that suits it best, each branch the alternative. No plan
 * is earlier. Other optional operations have -1.
 */
export class AloneTimes {
  readonly #fit: EarliestFit;
  readonly #modes: DistinctModes;
  readonly #now: number;
  /** The last end of an operation that is always there. */
  lastEnd = 0;
  start = new Int32Array(64);
  end = new Int32Array(64);

  constructor(shop: ShopModel) {
    this.#fit = new EarliestFit(new Book(shop, []));
    this.#modes = new DistinctModes(shop);
    this.#now = shop.now;
  }

  /** Units of search work done so far. */
  get work(): number {
    return this.#fit.work;
  }

  read(job: JobModel, from: number): void {
    const size = job.operations.length;
    if (this.start.length < size) {
      this.start = new Int32Array(2 * size);
      this.end = new Int32Array(2 * size);
    }
    const { start, end } = this;
    start.fill(-1);
    end.fill(-1);
    this.lastEnd = 0;
    let stageFrom = from;
    let stageEnd = from;
    let stage = 0;
    for (let i = 0; i < size; i++) {
      const operation = job.operations[i]!;
      if (operation.stage !== stage) {
        stageEnd = this.#branchesEnd(job, stage, stageEnd);
        stage = operation.stage;
        stageFrom = this.#arrival(job, stage, stageEnd);
      }
      if (operation.optional && !operation.inBranch) continue;
      const arrives = operation.inStay ? stageFrom : job.stages[0]!.stay < 0 ? from : 0;
      let earliest = Math.max(this.#now, operation.release, operation.fixedStart, arrives);
      let earliestEnd = 0;
      for (const lag of operation.lags) {
        if (lag.to !== i || lag.from === i || start[lag.from]! < 0) continue;
        if (job.operations[lag.from]!.inBranch && !operation.inBranch) continue;
        const bound = (lag.fromEnd ? end[lag.from]! : start[lag.from]!) + lag.min;
        if (lag.toEnd) earliestEnd = Math.max(earliestEnd, bound);
        else earliest = Math.max(earliest, bound);
      }
      if (!operation.inBranch) earliest = Math.max(earliest, this.#afterBranches(job, operation, i));
      if (operation.fixing === 'pinned') {
        start[i] = operation.fixedStart;
        end[i] = operation.fixedEnd;
      } else {
        this.#fit.soonest(operation, this.#modes.of(operation), earliest);
        start[i] = Math.min(NEVER, this.#fit.start);
        end[i] = Math.min(NEVER, Math.max(this.#fit.end, earliestEnd));
      }
      if (!operation.optional) this.lastEnd = Math.max(this.lastEnd, end[i]!);
      if (operation.inStay && !operation.inBranch) stageEnd = Math.max(stageEnd, end[i]!);
    }
  }

  /** When a car that was done with what came before at `ready` can be in a stage that it must move to. */
  #arrival(job: JobModel, stage: number, ready: number): number {
    let soonest = NEVER;
    for (const move of job.stages[stage]!.comesBy) {
      const operation = job.operations[move]!;
      if (operation.fixing !== 'open') return ready;
      this.#fit.soonest(operation, this.#modes.of(operation), Math.max(ready, operation.release, this.#now));
      soonest = Math.min(soonest, this.#fit.end);
    }
    return soonest < NEVER ? soonest : ready;
  }

  /** The earliest that some alternative of every branch lets `operation` start, by lags between starts or from ends. */
  #afterBranches(job: JobModel, operation: OperationModel, i: number): number {
    let earliest = 0;
    for (const alternatives of job.branches) {
      let least = NEVER;
      for (const alternative of alternatives) {
        let after = 0;
        for (const lag of operation.lags) {
          if (lag.to !== i || lag.toEnd || this.start[lag.from]! < 0 || !alternative.includes(lag.from)) continue;
          after = Math.max(after, (lag.fromEnd ? this.end[lag.from]! : this.start[lag.from]!) + lag.min);
        }
        least = Math.min(least, after);
      }
      earliest = Math.max(earliest, least < NEVER ? least : 0);
    }
    return earliest;
  }

  /** When a stage is done with, whichever alternatives of its branches are taken. */
  #branchesEnd(job: JobModel, stage: number, ready: number): number {
    let end = ready;
    for (const alternatives of job.branches) {
      let least = NEVER;
      for (const alternative of alternatives) {
        let last = 0;
        for (const i of alternative) {
          const operation = job.operations[i]!;
          if (operation.stage === stage && operation.inStay) last = Math.max(last, this.end[i]!);
        }
        least = Math.min(least, last);
      }
      end = Math.max(end, least < NEVER ? least : 0);
    }
    return end;
  }
}
