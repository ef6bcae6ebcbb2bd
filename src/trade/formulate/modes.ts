import type { Mode } from '../../engine/problem/problem.ts';
import type { TechnicianId } from '../model/ids.ts';
import type { RecipeStep } from '../model/recipe.ts';
import { ableTo, attendedModes } from './attended-modes.ts';
import type { Car } from './car.ts';
import type { CoatingTimes } from './coating-times.ts';
import { type CrewShifts, crewShifts } from './crew-shifts.ts';
import { type CrewNeed, mostCrews } from './crews.ts';
import type { Frame } from './frame.ts';
import { OnceForEach } from './once-for-each.ts';
import type { Person } from './people.ts';
import { turnOf, turnsOf } from './turns.ts';
import { type Way, type WayFinder, wayFinder } from './ways.ts';

export interface ModeWish {
  readonly step: RecipeStep;
  /** Minutes at the norm's pace; of a cure by its data sheet, null. */
  readonly minutes: number | null;
  /** Places of the stay it is done in; empty where no car is needed. Equal lists are one list, by identity. */
  readonly places: readonly number[];
  readonly earliest: number;
  /** Further needs the crew must meet, because the same people do other work. */
  readonly alsoNeeded: readonly CrewNeed[];
  /** Exactly these people, whatever their skills (arranged by name, or handed over to). */
  readonly only?: readonly TechnicianId[];
  /** Somebody who is to be in the crew. */
  readonly including?: TechnicianId;
  /** Minute since which unattended waiting has been going on already. */
  readonly since?: number;
}

export interface ModeMaker {
  /** @throws CannotPlan when nobody, nothing or no place can do it. */
  modes(car: Car, wish: ModeWish): readonly Mode[];
  /** Index of the progress function of a crew's common hours, authorised overtime included. */
  crewProgress(crew: readonly Person[]): number;
  /** Equipment a step takes in a zone; none where there is not enough. */
  equipmentUses(step: RecipeStep, zone: number | null): Mode['uses'];
}

/** Makes the ways an operation can be done: who, where, with what, in which hours. Equal questions get one answer. */
export function modeMaker(frame: Frame, times: CoatingTimes): ModeMaker {
  return new RememberingMaker(frame, times);
}

class RememberingMaker implements ModeMaker {
  readonly #frame: Frame;
  readonly #times: CoatingTimes;
  readonly #finder: WayFinder;
  readonly #shifts: CrewShifts;
  readonly #modes = new OnceForEach<readonly Mode[]>();
  readonly #able = new OnceForEach<readonly Person[]>();
  readonly #placeNumbers = new Map<readonly number[], number>();

  constructor(frame: Frame, times: CoatingTimes) {
    this.#frame = frame;
    this.#times = times;
    this.#finder = wayFinder(frame, times);
    this.#shifts = crewShifts(frame);
  }

  modes(car: Car, wish: ModeWish): readonly Mode[] {
    const { step, minutes, places, alsoNeeded, only, including, since } = wish;
    const turns = step.attendance.kind === 'unattended' ? 1 : turnsOf(this.#ableTo(wish).length, mostCrews);
    const turn = turns === 1 ? 0 : turnOf(car.job.id) % turns;
    const question = `${minutes} ${this.#numberOf(places)} ${dayOf(wish)} ${turn} ${alsoNeeded.length > 0} ${only ?? ''} ${including ?? ''} ${since ?? ''}`;
    return this.#modes.get(step, question) ?? this.#modes.remember(step, question, this.#make(car, wish));
  }

  crewProgress(crew: readonly Person[]): number {
    return this.#shifts.fullProgress(crew);
  }

  equipmentUses(step: RecipeStep, zone: number | null): Mode['uses'] {
    return this.#finder.equipmentUses(step, zone);
  }

  #make(car: Car, wish: ModeWish): Mode[] {
    const ways = this.#finder.ways(car, wish);
    if (wish.step.attendance.kind === 'unattended') return unattendedModes(ways, wish, this.#frame.now);
    return attendedModes(car, wish, ways, this.#ableTo(wish), this.#times, this.#shifts);
  }

  #ableTo(wish: ModeWish): readonly Person[] {
    const question = `${dayOf(wish)} ${wish.alsoNeeded.length > 0}`;
    return this.#able.get(wish.step, question) ?? this.#able.remember(wish.step, question, ableTo(this.#frame, wish));
  }

  #numberOf(places: readonly number[]): number {
    const number = this.#placeNumbers.get(places) ?? this.#placeNumbers.size;
    this.#placeNumbers.set(places, number);
    return number;
  }
}

/** Certificates run out: who may do a step then depends on the day. */
function dayOf({ step, earliest }: ModeWish): number {
  return step.crew.certified ? Math.floor(earliest / 1440) : 0;
}

function unattendedModes(ways: readonly Way[], wish: ModeWish, now: number): Mode[] {
  const modes: Mode[] = [];
  for (const way of ways) modes.push(unattendedMode(way, wish, now));
  return modes;
}

function unattendedMode(way: Way, { minutes, since }: ModeWish, now: number): Mode {
  const passed = since === undefined ? 0 : now - since;
  return {
    work: way.cure === undefined ? Math.max(0, (minutes ?? 0) - passed) : way.cure.work,
    ...(way.cure?.progress === undefined ? {} : { progress: way.cure.progress }),
    uses: way.uses,
    ...(way.places === undefined ? {} : { places: way.places }),
    ...(way.allowed === undefined ? {} : { allowed: way.allowed }),
  };
}
