import { randomUUID } from 'node:crypto';
import { setTimeout } from 'node:timers/promises';
import type { Page } from 'playwright-core';
import type { Where } from './screen.ts';

export interface Operation {
  readonly jobId: string;
  readonly operation: string;
  readonly kind: string;
  readonly label: string;
  readonly start: string;
  readonly state: string;
  readonly placeId: string | null;
  readonly people: readonly string[];
  readonly remedy: boolean;
}

/** Looks at the plan before the latest is taken as it is. */
const MOST_LOOKS = 160;
const LOOK_MS = 250;
/** Looks in a row that find the same plan before it is believed to stay. */
const SAME_LOOKS = 4;

interface Plan {
  readonly version: number;
  readonly madeAt: string;
  readonly operations: readonly Operation[];
  readonly stays: readonly { readonly jobId: string; readonly placeId: string; readonly from: string }[];
}

interface Event {
  readonly recordedAt: string;
  readonly fact: { readonly kind: string; readonly operation?: string; readonly text?: string };
}

/** The demo's book over the API. Which car is where follows from a plan, so that tests ask for what they need. */
export class DemoBook {
  readonly #where: Where;
  /** The car that something was told of last, and to which server. */
  #told = { of: '', to: '' };
  constructor(where: Where) {
    this.#where = where;
  }

  get #at(): string {
    return `${this.#where.base}/v1/shops/demo`;
  }

  async read<T>(path: string): Promise<T> {
    const reply = await fetch(this.#at + path, { headers: { cookie: this.#where.cookie } });
    if (!reply.ok) throw new Error(`${path}: ${await reply.text()}`);
    return (await reply.json()) as T;
  }

  async post<T>(path: string, body: object): Promise<T> {
    const reply = await fetch(this.#at + path, {
      method: 'POST',
      headers: { 'content-type': 'application/json', 'idempotency-key': randomUUID(), cookie: this.#where.cookie },
      body: JSON.stringify(body),
    });
    if (!reply.ok) throw new Error(`${path}: ${await reply.text()}`);
    return (await reply.json()) as T;
  }

  /** A car booked for a wash on a day, at the soonest; its wash as the plan has it. */
  async bookWash(registration: string, day: string): Promise<Operation> {
    const request = {
      customer: { name: `${registration} (invented)`, phone: '000', email: '' },
      vehicle: {
        class: 'compact',
        description: 'silver compact (invented)',
        registration,
        colour: 'silver',
        lengthMm: 4250,
        heightMm: 1480,
        paintHardness: 'medium',
        repaints: [],
      },
      condition: { soil: 1, defects: 1, brakeDust: 1, minerals: false, tar: false },
      recipeId: 'walkInWash',
      earliestDropOff: `${day}T07:00:00Z`,
    };
    const { choices } = await this.post<{ choices: { dropOffAt: string; pickupAt: string }[] }>('/quotes', request);
    const { dropOffAt, pickupAt } = choices[0]!;
    const view = await this.post<{ operations: Operation[] }>('/jobs', { request, dropOffAt, pickupAt });
    return view.operations.find((each) => each.kind === 'maintenanceWash')!;
  }

  /** Tells what has happened, now or so many minutes ago. */
  async tell(jobId: string, fact: object, minutesAgo = 0): Promise<void> {
    const clientId = randomUUID();
    const occurredAt = new Date(Date.now() + this.#where.offsetMs - minutesAgo * 60_000).toISOString();
    await this.post(`/jobs/${jobId}/floor-events`, { clientId, occurredAt, fact });
    this.#told = { of: jobId, to: this.#at };
  }

  /** Whoever has something under way. */
  async busy(): Promise<string[]> {
    const { operations } = await this.read<Plan>('/plan');
    return operations.filter((each) => each.state === 'underWay').flatMap((each) => each.people);
  }

  /** The first planned operation of a kind, in order of time, besides some jobs. */
  async planned(kind: string, besides: readonly string[] = []): Promise<Operation> {
    const { operations } = await this.settled();
    const found = operations
      .filter((each) => each.kind === kind && each.state === 'planned' && !besides.includes(each.jobId))
      .toSorted((a, b) => Date.parse(a.start) - Date.parse(b.start))[0];
    if (found === undefined) throw new Error(`the demo's plan has no ${kind} left`);
    return found;
  }

  /** Work of a kind on a car that is still to come, besides some cars. */
  async expected(kind: string, besides: readonly string[] = []): Promise<Operation> {
    const here = await this.read<{ items: { job: { id: string } }[] }>('/jobs?state=inShop&limit=200');
    return this.planned(kind, [...besides, ...here.items.map((each) => each.job.id)]);
  }

  /** The intake of a car that has just come, by people with nothing else under way. */
  async intakeAtTheDoor(): Promise<Operation> {
    for (;;) {
      const intake = await this.arrive(await this.expected('intake'));
      const busy = await this.busy();
      if (!intake.people.some((person) => busy.includes(person))) return intake;
    }
  }

  /** The plan once it has heard of the last thing told of a car, and nothing makes a new one any more. */
  async settled(of = this.#told.to === this.#at ? this.#told.of : ''): Promise<Plan> {
    const { items } = of === '' ? { items: [] } : await this.read<{ items: Event[] }>(`/jobs/${of}/floor-events`);
    const told = Math.max(0, ...items.map(({ recordedAt }) => Date.parse(recordedAt)));
    let plan = await this.read<Plan>('/plan');
    for (let same = 0, looks = 0; same < SAME_LOOKS && looks < MOST_LOOKS; looks++) {
      await setTimeout(LOOK_MS);
      const next = await this.read<Plan>('/plan');
      same = next.version === plan.version && Date.parse(next.madeAt) >= told ? same + 1 : 0;
      plan = next;
    }
    return plan;
  }

  /** The car comes, to the place where its plan wants it first; gives back the operation as it is planned from then on. */
  async arrive({ jobId, operation }: Operation): Promise<Operation> {
    const { stays } = await this.read<Plan>('/plan');
    const own = stays
      .filter((each) => each.jobId === jobId)
      .toSorted((a, b) => Date.parse(a.from) - Date.parse(b.from));
    await this.tell(jobId, { kind: 'arrived', placeId: own[0]?.placeId });
    const { operations } = await this.settled();
    const found = operations.find((each) => each.jobId === jobId && each.operation === operation);
    if (found === undefined) throw new Error(`${operation} left the plan when the car came`);
    return found;
  }

  /** The car stands where an operation of it is planned. */
  async bring({ jobId, placeId }: Operation): Promise<void> {
    const { job } = await this.read<{ job: { state: string } }>(`/jobs/${jobId}`);
    await this.tell(jobId, { kind: job.state === 'inShop' ? 'moved' : 'arrived', placeId });
  }

  async registrationOf(jobId: string): Promise<string> {
    const { job } = await this.read<{ job: { vehicle: { registration: string } } }>(`/jobs/${jobId}`);
    return job.vehicle.registration;
  }

  /** What has happened to a car, a few words each. */
  async factsOf(jobId: string): Promise<string[]> {
    const { items } = await this.read<{ items: Event[] }>(`/jobs/${jobId}/floor-events`);
    return items.map(({ fact }) => [fact.kind, fact.text ?? fact.operation].filter(Boolean).join(' '));
  }
}

/**
 * Puts one operation in front of whoever is planned for it: the queue is the server's own, of the operation's day, with nothing
 * else on it. What is done to it afterwards goes to the server. Where a plan made meanwhile gives it to somebody else, on another
 * day, it stays in front all the same.
 */
export async function inFront(page: Page, { jobId, operation, start, people }: Operation, change: object = {}) {
  let items: object[] = [];
  await page.route(`**/technicians/${people[0]}/queue`, async (route) => {
    const asked = route.request().url();
    const shop = asked.slice(0, asked.indexOf('/technicians/'));
    const queueOf = async (person: string | undefined, day?: string) => {
      const of = day === undefined ? '' : `?day=${day}`;
      const reply = await route.fetch({ url: `${shop}/technicians/${person}/queue${of}` });
      return (await reply.json()) as { items: { jobId: string; operation: string; when: string }[] };
    };
    const names = [operation, `${operation}.rest`];
    const isIt = (each: { jobId: string; operation: string }) => each.jobId === jobId && names.includes(each.operation);
    // What has begun is in today's queue, whatever day it was planned for.
    let queue = await queueOf(people[0]);
    if (!queue.items.some(isIt)) {
      const plan = (await (await route.fetch({ url: `${shop}/plan` })).json()) as Plan;
      const now = plan.operations.find(isIt) ?? { people, start };
      queue = { ...queue, items: (await queueOf(now.people[0], now.start.slice(0, 10))).items };
    }
    const own = queue.items
      .filter(isIt)
      .map((item) => ({ ...item, when: item.when === 'later' ? 'next' : item.when, ...change }));
    items = own.length > 0 ? own : items;
    await route.fulfill({ json: { ...queue, items } });
  });
  await page.addInitScript(`localStorage.setItem('panelday.technician', ${JSON.stringify(people[0])})`);
  await page.goto('/floor.html');
}
