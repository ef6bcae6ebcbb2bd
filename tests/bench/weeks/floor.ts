import { recordReadings } from '../../../src/shop/conditions/record-readings.ts';
import { laysCoat } from '../../../src/shop/floor/gates/conditions-gate.ts';
import { stepOf } from '../../../src/shop/floor/recipe-step.ts';
import { recordFact } from '../../../src/shop/floor/record-fact.ts';
import { startOperation } from '../../../src/shop/floor/start-operation.ts';
import { whatHappened } from '../../../src/shop/floor/what-happened.ts';
import { answerScope } from '../../../src/shop/inspection/answer-scope.ts';
import { recordInspection } from '../../../src/shop/inspection/record-inspection.ts';
import { GateShut } from '../../../src/shop/problems/problems.ts';
import { type ShopAsItStands, shopAsItStands } from '../../../src/shop/records/shop-as-it-stands.ts';
import { addDays, localDate } from '../../../src/trade/calendar/local-instant.ts';
import { openHours } from '../../../src/trade/calendar/open-hours.ts';
import { eventsByJob } from '../../../src/trade/formulate/events-by-job.ts';
import { recordKey } from '../../../src/trade/formulate/floor-record.ts';
import type { JobId, OperationKey, PlaceId, TechnicianId } from '../../../src/trade/model/ids.ts';
import type { FloorFact, Job } from '../../../src/trade/model/job.ts';
import type { PlannedOperation } from '../../../src/trade/model/plan.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { PanelName } from '../../../src/trade/model/vehicle.ts';
import type { Luck } from './luck.ts';
import type { VirtualShop } from './virtual-shop.ts';

export interface FloorTerms {
  /** Standard deviation of the logarithm of how long everything takes on one day. */
  readonly dayDeviation: number;
  /** Probability that the inspection on clean paint finds a grade more than was booked, and that a customer agrees to it. */
  readonly scopeGrows: number;
  readonly agrees: number;
  /** Last day for which hours are laid out. */
  readonly until: Instant;
}

export interface FloorTally {
  facts: number;
  /** Starts that a gate refused, by rule, counted once a work. */
  readonly shut: Map<string, Set<string>>;
  /** Cars that found their place taken. */
  readonly placeTaken: Set<string>;
  failedInspections: number;
  grownScopes: number;
  /** When each car was ready, by the floor: the end of its last work before it is handed over. */
  readonly readyAt: Map<JobId, Instant>;
}

/** Work that somebody is at. */
interface UnderWay {
  readonly jobId: JobId;
  readonly operation: OperationKey;
  readonly kind: PlannedOperation['kind'];
  readonly people: readonly TechnicianId[];
  readonly takesHands: boolean;
  /** Stretches in which it is worked at; the first has begun. */
  readonly pieces: readonly { readonly from: Instant; readonly to: Instant }[];
  piece: number;
  rests: boolean;
  /** Of a move: where to. */
  readonly to: PlaceId | null;
}

const MINUTE = 60_000;
/** Who was turned away looks again after so long. */
const AGAIN_MS = 5 * MINUTE;
const UNPUNCTUAL_MINUTES = 10;
const REWORK_MINUTES = 60;

/** People who do what the plan says, when it says so or as soon after as they can, in the time that the work really takes. */
export class Floor {
  readonly tally: FloorTally = {
    facts: 0,
    shut: new Map(),
    placeTaken: new Set(),
    failedInspections: 0,
    grownScopes: 0,
    readyAt: new Map(),
  };
  readonly #shop: VirtualShop;
  readonly #luck: Luck;
  readonly #terms: FloorTerms;
  readonly #hours: ReadonlyMap<TechnicianId, readonly { readonly from: number; readonly to: number }[]>;
  readonly #underWay = new Map<string, UnderWay>();
  readonly #lookAgain = new Map<string, number>();
  readonly #answers: { readonly jobId: JobId; readonly at: number; readonly yes: boolean }[] = [];
  #ids = 0;
  #now = 0 as Instant;

  constructor(shop: VirtualShop, luck: Luck, begin: Instant, terms: FloorTerms) {
    this.#shop = shop;
    this.#luck = luck;
    this.#terms = terms;
    const { timeZone: zone } = shop.data.shop;
    const days = { zone, from: localDate(begin, zone), to: addDays(localDate(terms.until, zone), 1) };
    this.#hours = new Map(
      shop.data.technicians.map((each) => [each.id, openHours(days, each.shifts, each.exceptions).open]),
    );
  }

  /** Does everything that is due at a minute. */
  async work(now: Instant): Promise<void> {
    this.#now = now;
    const before = this.tally.facts;
    await this.#goOn();
    await this.#answer();
    for (let told = -1; told !== this.tally.facts; ) {
      told = this.tally.facts;
      await this.#receive();
      await this.#begin();
    }
    if (this.tally.facts > before) this.#lookAgain.clear();
  }

  /** The next minute after now at which something is due, as far as the floor knows. */
  async nextDue(): Promise<number> {
    const standing = await this.#standing();
    let next = Number.POSITIVE_INFINITY;
    const due = (at: number) => {
      if (at > this.#now && at < next) next = at;
    };
    for (const { pieces, piece, rests } of this.#underWay.values())
      due(rests ? pieces[piece]!.from : pieces[piece]!.to);
    for (const { at } of this.#answers) due(at);
    for (const at of this.#lookAgain.values()) due(at);
    for (const { start, state } of standing.plan?.operations ?? []) if (state === 'planned') due(start);
    for (const job of standing.openJobs) if (job.state === 'booked') due(this.#comesAt(job));
    return next;
  }

  /** Whether anybody is at work now. */
  get isStaffed(): boolean {
    return [...this.#hours.keys()].some((person) => this.#isHere(person));
  }

  #standing(): Promise<ShopAsItStands> {
    return shopAsItStands(this.#shop.deps.store, this.#shop.shopId);
  }

  async #tell(jobId: JobId, fact: FloorFact): Promise<void> {
    const { deps, shopId } = this.#shop;
    await recordFact(deps, { shopId, jobId, clientId: `floor-fact-${++this.#ids}`, occurredAt: this.#now, fact });
    this.tally.facts += 1;
  }

  #comesAt(job: Job): Instant {
    const minutes = this.#luck.whole(`${job.id} comes`, 0, UNPUNCTUAL_MINUTES);
    return ((job.dropOffAt ?? job.earliestDropOff) + minutes * MINUTE) as Instant;
  }

  /** Work whose stretch is over rests or is done; work that rested goes on. */
  async #goOn(): Promise<void> {
    for (const [key, work] of this.#underWay) {
      const { jobId, operation, pieces } = work;
      if (work.rests && pieces[work.piece]!.from <= this.#now) {
        work.rests = false;
        await this.#tell(jobId, { kind: 'resumed', operation });
      }
      if (work.rests || pieces[work.piece]!.to > this.#now) continue;
      if (work.to !== null) {
        if (await this.#isTaken(work.to, jobId)) {
          this.tally.placeTaken.add(jobId);
          continue;
        }
        this.#underWay.delete(key);
        await this.#tell(jobId, { kind: 'moved', placeId: work.to });
      } else if (work.piece < pieces.length - 1) {
        work.piece += 1;
        work.rests = true;
        await this.#tell(jobId, { kind: 'interrupted', operation, reason: 'end of the shift' });
      } else {
        this.#underWay.delete(key);
        await this.#finish(work);
      }
    }
  }

  async #finish({ jobId, operation, kind }: UnderWay): Promise<void> {
    if (kind === 'cleanPaintInspection') await this.#inspect(jobId);
    await this.#tell(jobId, { kind: 'finished', operation });
    if (kind !== 'handover') this.tally.readyAt.set(jobId, this.#now);
    const { shop } = this.#shop.data;
    if (kind !== 'finalInspection') return;
    if (100 * this.#luck.draw(`${jobId} ${this.#now} fails`) >= shop.finalInspectionFailurePercent) return;
    this.tally.failedInspections += 1;
    await this.#tell(jobId, {
      kind: 'failedFinalInspection',
      reworkMinutes: REWORK_MINUTES,
      note: 'Holograms (invented).',
    });
  }

  async #inspect(jobId: JobId): Promise<void> {
    const { deps, shopId } = this.#shop;
    const { value: job, version } = (await deps.store.jobs.get(shopId, jobId))!;
    const grows = this.#luck.draw(`${jobId} grows`) < this.#terms.scopeGrows;
    const defects = Math.min(4, job.condition.defects + Number(grows));
    const inspection = {
      at: this.#now,
      panels: PanelName.options.map((panel) => ({ panel, defects })),
      film: [],
      paintHardness: job.vehicle.paintHardness ?? null,
    };
    const revised = await recordInspection(deps, { shopId, jobId, expectedVersion: version, inspection });
    if (revised.job.scope?.answer !== 'awaited') return;
    this.tally.grownScopes += 1;
    const minutes = this.#luck.whole(`${jobId} answers`, 15, 150);
    const yes = this.#luck.draw(`${jobId} agrees`) < this.#terms.agrees;
    this.#answers.push({ jobId, at: this.#now + minutes * MINUTE, yes });
  }

  async #answer(): Promise<void> {
    const { deps, shopId } = this.#shop;
    for (const { jobId, at, yes } of this.#answers.splice(0)) {
      if (at > this.#now) {
        this.#answers.push({ jobId, at, yes });
        continue;
      }
      const { value: job, version } = (await deps.store.jobs.get(shopId, jobId))!;
      if (job.scope?.answer !== 'awaited') continue;
      await answerScope(deps, { shopId, jobId, expectedVersion: version, answer: yes ? 'approved' : 'declined' });
      this.tally.facts += 1;
    }
  }

  /** Cars that are due are taken in, where the plan has them or wherever there is room. */
  async #receive(): Promise<void> {
    const { plan, openJobs } = await this.#standing();
    for (const job of openJobs) {
      if (job.state !== 'booked' || this.#comesAt(job) > this.#now || this.#waits(job.id)) continue;
      const stays = (plan?.stays ?? []).filter(({ jobId }) => jobId === job.id).sort((a, b) => a.from - b.from);
      const first = stays[0]?.placeId;
      const others = this.#shop.data.places.filter(
        ({ capabilities, blockedBy }) => capabilities.includes('hold') && blockedBy.length === 0,
      );
      let found: PlaceId | null = null;
      for (const placeId of [...(first === undefined ? [] : [first]), ...others.map(({ id }) => id)]) {
        if (found === null && !(await this.#isTaken(placeId, job.id))) found = placeId;
      }
      if (found !== first) this.tally.placeTaken.add(job.id);
      if (found === null) this.#later(job.id);
      else await this.#tell(job.id, { kind: 'arrived', placeId: found });
    }
  }

  /** Moves and work that are due and whose people are free. */
  async #begin(): Promise<void> {
    const standing = await this.#standing();
    const due = (standing.plan?.operations ?? [])
      .filter(
        ({ state, start, end, people }) =>
          state === 'planned' && start <= this.#now && end > start && people.length > 0,
      )
      .sort((a, b) => a.start - b.start);
    const jobs = new Map(standing.openJobs.map((job) => [job.id, job]));
    const told = eventsByJob(standing.events);
    for (const operation of due) {
      const job = jobs.get(operation.jobId);
      const key = `${operation.jobId} ${recordKey(operation.operation)}`;
      if (job === undefined || this.#underWay.has(key) || this.#waits(key)) continue;
      if (operation.people.some((person) => this.#isBusy(person) || !this.#isHere(person))) continue;
      const happened = whatHappened(told.get(job.id) ?? [], this.#now);
      if (happened.arrivedAt === null || happened.work.get(recordKey(operation.operation))?.state === 'underWay')
        continue;
      if (operation.kind === 'handover' && this.#now < this.#fetchedAt(job, operation)) continue;
      if (operation.kind === 'move') await this.#move(job, operation, key);
      else await this.#start(standing, job, operation, key);
      // What was planned may be otherwise now.
      if (this.#underWay.has(key)) return;
    }
  }

  async #move(job: Job, operation: PlannedOperation, key: string): Promise<void> {
    const { placeId, start, end } = operation;
    if (placeId === null || (await this.#isTaken(placeId, job.id))) {
      this.tally.placeTaken.add(job.id);
      return this.#later(key);
    }
    this.#take(key, operation, [{ from: this.#now, to: (this.#now + end - start) as Instant }], placeId);
  }

  async #start(standing: ShopAsItStands, job: Job, operation: PlannedOperation, key: string): Promise<void> {
    const { deps, shopId } = this.#shop;
    if (laysCoat.has(operation.kind)) await this.#measure(standing, operation);
    try {
      const { jobId, people } = operation;
      await startOperation(deps, {
        shopId,
        jobId,
        operation: operation.operation,
        by: people,
        clientId: `floor-fact-${++this.#ids}`,
      });
    } catch (problem) {
      if (!(problem instanceof GateShut)) throw problem;
      for (const { rule, text } of problem.objections) {
        const works = this.tally.shut.get(rule) ?? new Set();
        works.add(`${key}: ${text}`);
        this.tally.shut.set(rule, works);
      }
      return this.#later(key);
    }
    this.tally.facts += 1;
    this.#take(key, operation, this.#stretches(standing, job, operation), null);
  }

  #take(key: string, operation: PlannedOperation, pieces: UnderWay['pieces'], to: PlaceId | null): void {
    const { jobId, kind, people, sharePercent } = operation;
    this.#underWay.set(key, {
      jobId,
      operation: operation.operation,
      kind,
      people,
      takesHands: sharePercent === 100,
      pieces,
      piece: 0,
      rests: false,
      to,
    });
  }

  /** When the work is really done: as long as it takes, in everybody's hours where it can pause. */
  #stretches(standing: ShopAsItStands, job: Job, operation: PlannedOperation): UnderWay['pieces'] {
    const recipe = standing.recipes.find(({ id }) => id === job.recipeId)!;
    const step = stepOf(recipe, operation.operation);
    const planned = operation.pieces.reduce((sum, { from, to }) => sum + to - from, 0) / MINUTE;
    const isGiven = step?.duration.by === 'dataSheet';
    const day = localDate(this.#now, standing.shop.timeZone);
    const factor = isGiven
      ? 1
      : this.#luck.factor(`${job.id} ${operation.operation}`, operation.kind, day, this.#terms.dayDeviation);
    let left = Math.max(1, Math.round(planned * factor)) * MINUTE;
    if (step?.pausable !== true && operation.pieces.length < 2)
      return [{ from: this.#now, to: (this.#now + left) as Instant }];
    const pieces: { from: Instant; to: Instant }[] = [];
    const hours = this.#hours.get(operation.people[0]!) ?? [];
    for (const { from, to } of hours) {
      const begin = Math.max(from, this.#now);
      if (begin >= to) continue;
      const end = Math.min(to, begin + left);
      pieces.push({ from: begin as Instant, to: end as Instant });
      left -= end - begin;
      if (left <= 0) break;
    }
    return pieces;
  }

  async #measure(standing: ShopAsItStands, { placeId }: PlannedOperation): Promise<void> {
    const { deps, shopId } = this.#shop;
    const zone = standing.places.find(({ id }) => id === placeId)?.airZoneId;
    const { setPoint } = standing.airZones.find(({ id }) => id === zone) ?? {};
    if (zone == null || setPoint === undefined) return;
    const last = await deps.store.readings.latest(shopId, zone, this.#now, 'measured');
    if (last !== null && this.#now - last.at < 50 * MINUTE) return;
    const reading = {
      airZoneId: zone,
      at: this.#now,
      source: 'measured' as const,
      airTempC: setPoint.airTempC,
      relativeHumidityPercent: setPoint.relativeHumidityPercent,
      panelTempC: setPoint.airTempC,
      jobId: null,
    };
    await recordReadings(deps, { shopId, readings: [reading] });
  }

  /** A customer comes at the hour that was told, or a little later. */
  #fetchedAt(job: Job, handover: PlannedOperation): number {
    const told = job.promise?.pickupAt ?? handover.start;
    return told + this.#luck.whole(`${job.id} fetched`, 0, UNPUNCTUAL_MINUTES) * MINUTE;
  }

  async #isTaken(placeId: PlaceId, by: JobId): Promise<boolean> {
    const { events, openJobs } = await this.#standing();
    const open = new Set(openJobs.map(({ id }) => id));
    for (const [jobId, own] of eventsByJob(events)) {
      if (jobId === by || !open.has(jobId)) continue;
      const stay = whatHappened(own, this.#now).stays.at(-1);
      if (stay?.placeId === placeId && stay.to === null) return true;
    }
    return false;
  }

  #isBusy(person: TechnicianId): boolean {
    return [...this.#underWay.values()].some(
      ({ takesHands, rests, people }) => takesHands && !rests && people.includes(person),
    );
  }

  #isHere(person: TechnicianId): boolean {
    return (this.#hours.get(person) ?? []).some(({ from, to }) => from <= this.#now && this.#now < to);
  }

  #waits(key: string): boolean {
    return (this.#lookAgain.get(key) ?? 0) > this.#now;
  }

  #later(key: string): void {
    this.#lookAgain.set(key, this.#now + AGAIN_MS);
  }
}
