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
import { localDate } from '../../../src/trade/calendar/local-instant.ts';
import { eventsByJob } from '../../../src/trade/formulate/events-by-job.ts';
import { recordKey } from '../../../src/trade/formulate/floor-record.ts';
import type { JobId, OperationKey, PlaceId, TechnicianId } from '../../../src/trade/model/ids.ts';
import type { FloorFact, Job } from '../../../src/trade/model/job.ts';
import type { PlannedOperation } from '../../../src/trade/model/plan.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { PanelName } from '../../../src/trade/model/vehicle.ts';
import { type BadDays, readingOf } from './bad-days.ts';
import type { Customers } from './customers.ts';
import { Hands, type Piece } from './hands.ts';
import type { Happened, Shares } from './happenings.ts';
import type { Luck } from './luck.ts';
import type { VirtualShop } from './virtual-shop.ts';

export interface FloorTerms {
  /** Standard deviation of the logarithm of how long everything takes on one day. */
  readonly dayDeviation: number;
  /** Probability that the inspection on clean paint finds a grade more than was booked, and that a customer agrees to it. */
  readonly scopeGrows: number;
  readonly agrees: number;
  readonly shares: Shares;
  /** Days for which hours are laid out. */
  readonly span: { readonly from: Instant; readonly to: Instant };
}

/** Who and what the floor has to do with. */
export interface FloorWorld {
  readonly luck: Luck;
  readonly customers: Customers;
  readonly badDays: BadDays;
  readonly happened: Happened;
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
  people: readonly TechnicianId[];
  readonly takesHands: boolean;
  /** Stretches in which it is worked at; the first has begun. */
  pieces: readonly Piece[];
  piece: number;
  rests: boolean;
  /** When it is told that it is finished; its people go on with other work before. */
  readonly toldAfterMs: number;
  /** Of a move: where to. */
  readonly to: PlaceId | null;
}

const MINUTE = 60_000;
/** Who was turned away looks again after so long. */
const AGAIN_MS = 5 * MINUTE;
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
  readonly #world: FloorWorld;
  readonly #terms: FloorTerms;
  readonly #hands: Hands;
  readonly #names = new Map<JobId, string>();
  readonly #underWay = new Map<string, UnderWay>();
  readonly #lookAgain = new Map<string, number>();
  readonly #answers: { readonly jobId: JobId; readonly at: number; readonly yes: boolean }[] = [];
  readonly #tried = new Set<string>();
  readonly #inspections = new Map<JobId, number>();
  #ids = 0;
  #now = 0 as Instant;

  constructor(shop: VirtualShop, world: FloorWorld, terms: FloorTerms) {
    this.#shop = shop;
    this.#luck = world.luck;
    this.#world = world;
    this.#terms = terms;
    this.#hands = new Hands(shop, terms.span, world.badDays);
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
    for (const { pieces, piece, rests, toldAfterMs } of this.#underWay.values()) {
      due(rests ? pieces[piece]!.from : pieces[piece]!.to);
      due(pieces[piece]!.to + toldAfterMs);
    }
    for (const { at } of this.#answers) due(at);
    for (const at of this.#lookAgain.values()) due(at);
    for (const { start, state } of standing.plan?.operations ?? []) if (state === 'planned') due(start);
    for (const job of standing.openJobs) if (job.state === 'booked') due(this.#world.customers.comesAt(job));
    return next;
  }

  /** Whether anybody is at work now. */
  get isStaffed(): boolean {
    return this.#hands.anybodyHere(this.#now);
  }

  async #standing(): Promise<ShopAsItStands> {
    const standing = await shopAsItStands(this.#shop.deps.store, this.#shop.shopId);
    for (const { id, vehicle } of standing.openJobs) this.#names.set(id, vehicle.registration);
    return standing;
  }

  async #tell(jobId: JobId, fact: FloorFact, occurredAt = this.#now): Promise<void> {
    const { deps, shopId } = this.#shop;
    await recordFact(deps, { shopId, jobId, clientId: `floor-fact-${++this.#ids}`, occurredAt, fact });
    this.tally.facts += 1;
  }

  /** What its draws are named by: the same in every run of a seed, as ids are not. */
  #nameOf(jobId: JobId): string {
    return this.#names.get(jobId) ?? jobId;
  }

  /** Work whose stretch is over rests or is done; work that rested goes on. */
  async #goOn(): Promise<void> {
    for (const [key, work] of this.#underWay) {
      const { jobId, operation } = work;
      if (work.rests && work.pieces[work.piece]!.from <= this.#now && (await this.#isManned(work))) {
        work.rests = false;
        await this.#tell(jobId, { kind: 'resumed', operation });
      }
      if (work.rests || work.pieces[work.piece]!.to > this.#now) continue;
      if (work.to !== null) {
        if (await this.#isTaken(work.to, jobId)) {
          this.tally.placeTaken.add(jobId);
          continue;
        }
        this.#underWay.delete(key);
        await this.#tell(jobId, { kind: 'moved', placeId: work.to });
      } else if (work.piece < work.pieces.length - 1) {
        work.piece += 1;
        work.rests = true;
        await this.#tell(jobId, { kind: 'interrupted', operation, reason: 'end of the shift' });
      } else if (this.#doneAt(work) + work.toldAfterMs <= this.#now) {
        this.#underWay.delete(key);
        await this.#finish(work);
      }
    }
  }

  #doneAt({ pieces }: UnderWay): Instant {
    return pieces.at(-1)!.to;
  }

  /** Whoever was at the work is here; else somebody takes it over, or it waits until they are back. */
  async #isManned(work: UnderWay): Promise<boolean> {
    if (work.people.every((person) => this.#isHere(person))) return true;
    const { recipes, openJobs } = await this.#standing();
    const recipeId = openJobs.find(({ id }) => id === work.jobId)?.recipeId;
    const step = stepOf(recipes.find(({ id }) => id === recipeId)!, work.operation);
    const left = work.pieces.slice(work.piece).reduce((sum, { from, to }) => sum + to - from, 0);
    const free = step === null ? [] : this.#hands.whoCan(step, this.#now).filter((person) => !this.#isBusy(person));
    const isHandedOver = free.length >= work.people.length;
    if (isHandedOver) {
      work.people = free.slice(0, work.people.length);
      await this.#tell(work.jobId, { kind: 'handedOver', operation: work.operation, to: [...work.people] });
    }
    const absent = work.people.find((person) => !this.#isHere(person)) ?? work.people[0]!;
    work.pieces = [...work.pieces.slice(0, work.piece), ...this.#hands.stretches(absent, this.#now, left)];
    return isHandedOver;
  }

  async #finish(work: UnderWay): Promise<void> {
    const { jobId, operation, kind } = work;
    const doneAt = Math.min(this.#doneAt(work), this.#now) as Instant;
    if (kind === 'cleanPaintInspection') await this.#inspect(jobId);
    await this.#tell(jobId, { kind: 'finished', operation }, work.toldAfterMs === 0 ? this.#now : doneAt);
    if (kind !== 'handover') this.tally.readyAt.set(jobId, doneAt);
    const { shop } = this.#shop.data;
    if (kind !== 'finalInspection') return;
    const inspections = (this.#inspections.get(jobId) ?? 0) + 1;
    this.#inspections.set(jobId, inspections);
    if (100 * this.#luck.draw(`${this.#nameOf(jobId)} ${inspections} fails`) >= shop.finalInspectionFailurePercent)
      return;
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
    const grows = this.#luck.draw(`${this.#nameOf(jobId)} grows`) < this.#terms.scopeGrows;
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
    const minutes = this.#luck.whole(`${this.#nameOf(jobId)} answers`, 15, 150);
    const yes = this.#luck.draw(`${this.#nameOf(jobId)} agrees`) < this.#terms.agrees;
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
      if (job.state !== 'booked' || this.#world.customers.comesAt(job) > this.#now || this.#waits(job.id)) continue;
      const stays = (plan?.stays ?? []).filter(({ jobId }) => jobId === job.id).sort((a, b) => a.from - b.from);
      const first = stays[0]?.placeId;
      const canStand = this.#shop.data.places.filter(
        ({ capabilities, blockedBy }) => capabilities.includes('hold') && blockedBy.length === 0,
      );
      // Nobody leaves a car in a bay while there is room elsewhere.
      const others = [...canStand].sort((a, b) => Number(a.kind === 'bay') - Number(b.kind === 'bay'));
      let found: PlaceId | null = null;
      for (const placeId of [...(first === undefined ? [] : [first]), ...others.map(({ id }) => id)]) {
        if (found === null && !(await this.#isTaken(placeId, job.id))) found = placeId;
      }
      if (found !== first) this.tally.placeTaken.add(job.id);
      if (found === null) this.#later(job.id);
      else {
        await this.#tell(job.id, { kind: 'arrived', placeId: found });
        this.#world.customers.noteComing(job);
      }
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
      if (await this.#beginsOther(standing, job, operation)) return;
      if (operation.kind === 'move') await this.#move(job, operation, key);
      else await this.#start(standing, job, operation, key);
      // What was planned may be otherwise now.
      if (this.#underWay.has(key)) return;
    }
  }

  /** Now and then somebody begins what is theirs later, where its gates let them. */
  async #beginsOther(standing: ShopAsItStands, job: Job, due: PlannedOperation): Promise<boolean> {
    const name = `${this.#nameOf(job.id)} ${due.operation} other`;
    if (this.#tried.has(name) || this.#luck.draw(name) >= this.#terms.shares.otherWork) return false;
    this.#tried.add(name);
    const [person] = due.people;
    const others = (standing.plan?.operations ?? [])
      .filter(
        ({ jobId, state, kind, start, people }) =>
          state === 'planned' &&
          jobId !== job.id &&
          kind !== 'move' &&
          kind !== 'handover' &&
          start > this.#now &&
          people.length === 1 &&
          people[0] === person,
      )
      .sort((a, b) => a.start - b.start);
    for (const other of others) {
      const its = standing.openJobs.find(({ id, state }) => id === other.jobId && state === 'inShop');
      const key = `${other.jobId} ${recordKey(other.operation)}`;
      if (its === undefined || this.#underWay.has(key)) continue;
      await this.#start(standing, its, other, key, 'on a whim');
      if (!this.#underWay.has(key)) continue;
      this.#world.happened.note('otherWork', [job.id, its.id]);
      return true;
    }
    return false;
  }

  async #move(job: Job, operation: PlannedOperation, key: string): Promise<void> {
    const { placeId, start, end } = operation;
    if (placeId === null || (await this.#isTaken(placeId, job.id))) {
      this.tally.placeTaken.add(job.id);
      return this.#later(key);
    }
    this.#take(key, operation, [{ from: this.#now, to: (this.#now + end - start) as Instant }], placeId);
  }

  async #start(
    standing: ShopAsItStands,
    job: Job,
    operation: PlannedOperation,
    key: string,
    why?: 'on a whim',
  ): Promise<void> {
    const { deps, shopId } = this.#shop;
    // Whoever forgot to tell that they are done tells it before they begin.
    for (const [done, work] of this.#underWay) {
      if (!this.#isForgotten(work) || !work.people.some((person) => operation.people.includes(person))) continue;
      this.#underWay.delete(done);
      await this.#finish(work);
    }
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
      if (why !== undefined) return;
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

  #take(key: string, operation: PlannedOperation, pieces: readonly Piece[], to: PlaceId | null): void {
    const { jobId, kind, people, sharePercent } = operation;
    const name = `${this.#nameOf(jobId)} ${operation.operation} forgotten`;
    const isForgotten = to === null && people.length > 0 && this.#luck.draw(name) < this.#terms.shares.forgotten;
    if (isForgotten) this.#world.happened.note('forgotten', [jobId]);
    this.#underWay.set(key, {
      jobId,
      operation: operation.operation,
      kind,
      people,
      takesHands: sharePercent === 100,
      pieces,
      piece: 0,
      rests: false,
      toldAfterMs: isForgotten ? this.#luck.whole(`${name} minutes`, 20, 90) * MINUTE : 0,
      to,
    });
  }

  /** When the work is really done: as long as it takes, in everybody's hours where it can pause. */
  #stretches(standing: ShopAsItStands, job: Job, operation: PlannedOperation): readonly Piece[] {
    const recipe = standing.recipes.find(({ id }) => id === job.recipeId)!;
    const step = stepOf(recipe, operation.operation);
    const planned = operation.pieces.reduce((sum, { from, to }) => sum + to - from, 0) / MINUTE;
    const isGiven = step?.duration.by === 'dataSheet';
    const day = localDate(this.#now, standing.shop.timeZone);
    const name = `${this.#nameOf(job.id)} ${operation.operation}`;
    const factor = isGiven ? 1 : this.#luck.factor(name, operation.kind, day, this.#terms.dayDeviation);
    const takes = Math.max(1, Math.round(planned * factor)) * MINUTE;
    if (step?.pausable !== true && operation.pieces.length < 2)
      return [{ from: this.#now, to: (this.#now + takes) as Instant }];
    return this.#hands.stretches(operation.people[0]!, this.#now, takes);
  }

  async #measure(standing: ShopAsItStands, { placeId }: PlannedOperation): Promise<void> {
    const { deps, shopId } = this.#shop;
    const zone = standing.places.find(({ id }) => id === placeId)?.airZoneId;
    const { setPoint } = standing.airZones.find(({ id }) => id === zone) ?? {};
    if (zone == null || setPoint === undefined) return;
    const last = await deps.store.readings.latest(shopId, zone, this.#now, 'measured');
    if (last !== null && this.#now - last.at < 50 * MINUTE) return;
    const reading = readingOf(zone, this.#world.badDays.airAt(setPoint, this.#now), this.#now);
    await recordReadings(deps, { shopId, readings: [reading] });
  }

  /** A customer comes at the hour that was told, or a little later. */
  #fetchedAt(job: Job, handover: PlannedOperation): number {
    return this.#world.customers.fetchedAt(job, job.promise?.pickupAt ?? handover.start);
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
      (work) => work.takesHands && !work.rests && !this.#isForgotten(work) && work.people.includes(person),
    );
  }

  /** Work that is done and that nobody has told of yet. */
  #isForgotten(work: UnderWay): boolean {
    return work.toldAfterMs > 0 && this.#doneAt(work) <= this.#now;
  }

  #isHere(person: TechnicianId): boolean {
    return this.#hands.isHere(person, this.#now);
  }

  #waits(key: string): boolean {
    return (this.#lookAgain.get(key) ?? 0) > this.#now;
  }

  #later(key: string): void {
    this.#lookAgain.set(key, this.#now + AGAIN_MS);
  }
}
