import type { Mode, Problem } from '../../../src/engine/problem/problem.ts';
import type { Schedule } from '../../../src/engine/problem/solution.ts';
import { at, blankProblem, endToStart, work } from '../random/blank-problem.ts';

/**
 * An invented day and a half with every kind of rule in it. Minutes count from midnight; the shop is open from 480 to
 * 1080 and, on the second day, from 1920 to 2520; lunch is 720 to 765.
 *
 * Places: wet bay 0 and bay 1 share the air of the hall; yard space 2 lies behind yard space 3.
 * People: Ada and Ben. Job 0 is washed, moved, compounded over the night, wiped, coated, cured, handed over. Job 1 is
 * washed and goes to the yard until its owner comes.
 */
export const WET_BAY = 0;
export const CLEAN_BAY = 1;
export const YARD_BACK = 2;
export const YARD_FRONT = 3;
export const ADA = 0;
export const BEN = 1;

export const Op = {
  intake: 0,
  wash: 1,
  move: 2,
  compound: 3,
  wipe: 4,
  coat: 5,
  cure: 6,
  handover: 7,
  rewipe: 8,
  otherIntake: 9,
  otherWash: 10,
  otherMove: 11,
  otherHandover: 12,
  rinse: 13,
} as const;

const SHIFTS = [
  { from: 480, to: 720 },
  { from: 765, to: 1080 },
  { from: 1920, to: 2160 },
  { from: 2205, to: 2520 },
];
const OPEN = [
  { from: 480, to: 1080 },
  { from: 1920, to: 2520 },
];
const DUST = 0;
const OPEN_COATING = 1;

function by(person: number, minutes: number, given: Partial<Mode> = {}): Mode {
  return { work: minutes, progress: 0, uses: [{ resource: person, amount: 100 }], ...given };
}

const anyone = (minutes: number, given: Partial<Mode> = {}) => [by(ADA, minutes, given), by(BEN, minutes, given)];

export const twoCarDay: Problem = blankProblem({
  horizon: 2880,
  now: 470,
  progresses: [{ at: SHIFTS.flatMap(({ from, to }) => [from, to]), rate: SHIFTS.flatMap(() => [1, 0]) }],
  resources: [
    { name: 'Ada', capacity: 100, kind: 'person', open: SHIFTS, overtime: [{ from: 2400, to: 2520 }] },
    { name: 'Ben', capacity: 100, kind: 'person', open: SHIFTS },
  ],
  budgets: [
    {
      name: 'machine hours',
      windows: [
        { from: 0, to: 1440 },
        { from: 1440, to: 2880 },
      ],
      limit: 300,
    },
  ],
  places: [
    { name: 'wet bay', turnaround: 15, blockedBy: [], zone: 0 },
    { name: 'clean bay', turnaround: 15, blockedBy: [], zone: 0 },
    { name: 'yard back', turnaround: 0, blockedBy: [YARD_FRONT] },
    { name: 'yard front', turnaround: 0, blockedBy: [] },
  ],
  zones: ['hall'],
  airLabels: ['dust', 'open coating'],
  airExclusions: [{ zone: 0, first: DUST, second: OPEN_COATING, settleAfterFirst: 30, settleAfterSecond: 0 }],
  jobs: [
    {
      name: 'grey estate',
      stays: [0, 1],
      release: 480,
      dropOffOpen: OPEN,
      pickupOpen: OPEN,
      arrival: Op.intake,
      handover: Op.handover,
      ready: Op.cure,
      promise: { at: 2400, weight: 5 },
    },
    {
      name: 'red coupe',
      stays: [2, 3],
      release: 480,
      dropOffOpen: OPEN,
      pickupOpen: OPEN,
      arrival: Op.otherIntake,
      handover: Op.otherHandover,
      ready: Op.otherWash,
      due: { at: 700, weight: 2 },
    },
  ],
  operations: [
    work('intake', 0, 20, { stay: 0, modes: anyone(20), fixed: { start: 480, by: 'frozen' } }),
    work('wash', 0, 60, { stay: 0, modes: anyone(60, { places: [WET_BAY] }) }),
    work('move', 0, 10, { modes: anyone(10), presence: 'optional' }),
    work('compound', 0, 360, {
      stay: 1,
      modes: anyone(360, { budget: 0, places: [CLEAN_BAY] }),
      pausable: true,
      leastFirstPiece: 30,
      longestPause: 1010,
    }),
    work('wipe', 0, 20, { stay: 1, modes: anyone(20) }),
    work('coat', 0, 60, { stay: 1, modes: anyone(60, { allowed: [{ from: 1980, to: 2300 }] }) }),
    work('cure', 0, 90, { stay: 1 }),
    work('handover', 0, 30, { stay: 1, modes: anyone(30) }),
    work('wipe again', 0, 20, { stay: 1, modes: anyone(20), presence: 'optional' }),
    work('intake', 1, 20, { stay: 2, modes: anyone(20) }),
    work('wash', 1, 60, { stay: 2, modes: anyone(60, { places: [WET_BAY] }) }),
    work('move', 1, 10, { modes: anyone(10), presence: 'optional' }),
    work('handover', 1, 30, { stay: 3, modes: anyone(30) }),
    work('rinse at home', 0, 0),
  ],
  stays: [
    { job: 0, places: [WET_BAY], optional: false },
    { job: 0, places: [WET_BAY, CLEAN_BAY], optional: false, move: Op.move },
    { job: 1, places: [WET_BAY], optional: false },
    { job: 1, places: [YARD_BACK, YARD_FRONT], optional: true, move: Op.otherMove },
  ],
  lags: [
    endToStart(Op.intake, Op.wash, 0),
    endToStart(Op.wash, Op.compound, 0),
    endToStart(Op.compound, Op.wipe, 30),
    { ...endToStart(Op.wipe, Op.coat, 5, 45), remedy: [Op.rewipe] },
    endToStart(Op.wipe, Op.rewipe),
    endToStart(Op.rewipe, Op.coat, 5),
    endToStart(Op.coat, Op.cure, 0, 0),
    { ...endToStart(Op.cure, Op.handover, 0), guards: 'release-safe' },
    { ...endToStart(Op.cure, Op.rinse, 60), guards: 'water-safe' },
    endToStart(Op.otherIntake, Op.otherWash, 0, 30),
    endToStart(Op.otherWash, Op.otherHandover, 0),
  ],
  sameCrew: [{ first: Op.wipe, second: Op.coat, held: true }],
  airSpans: [
    { label: DUST, stay: 1, from: at(Op.compound, 'start'), to: at(Op.compound, 'end') },
    { label: OPEN_COATING, stay: 1, from: at(Op.wipe, 'start'), to: at(Op.cure, 'end') },
    { label: DUST, stay: 2, from: at(Op.otherWash, 'start'), to: at(Op.otherWash, 'end') },
  ],
  stills: [{ job: 0, from: at(Op.wipe, 'start'), to: at(Op.cure, 'end') }],
  takenPlaces: [{ place: WET_BAY, from: 720, to: 760 }],
  takenResources: [{ resource: BEN, amount: 100, from: 900, to: 960 }],
  tiers: ['broken', 'tardiness', 'overtime', 'lead', 'makespan'],
});

/**
 * Worked out by hand. Grey estate: intake 480-500 Ada; wash 500-560 Ada; move 560-570 Ada into the clean bay; compound
 * from 570 by Ada: 150 minutes to lunch, 150 more from 765 to 915, where 300 minutes of machine hours are used up, and
 * the last 60 on the second morning to 1980; wipe 2010-2030, coat 2035-2095, cure to 2185, handover 2205-2235.
 * Red coupe: the wet bay is free at 570, ready for another car at 585; intake 585-605 and wash 605-665 by Ben; move
 * 665-675 to the back of the yard; handover 765-795.
 */
export const twoCarPlan: Schedule = {
  operations: [
    { start: 480, end: 500, mode: 0 },
    { start: 500, end: 560, mode: 0 },
    { start: 560, end: 570, mode: 0 },
    { start: 570, end: 1980, mode: 0 },
    { start: 2010, end: 2030, mode: 0 },
    { start: 2035, end: 2095, mode: 0 },
    { start: 2095, end: 2185, mode: 0 },
    { start: 2205, end: 2235, mode: 1 },
    null,
    { start: 585, end: 605, mode: 1 },
    { start: 605, end: 665, mode: 1 },
    { start: 665, end: 675, mode: 1 },
    { start: 765, end: 795, mode: 1 },
    { start: 2245, end: 2245, mode: 0 },
  ],
  stays: [
    { place: WET_BAY, from: 480, to: 570 },
    { place: CLEAN_BAY, from: 570, to: 2235 },
    { place: WET_BAY, from: 585, to: 675 },
    { place: YARD_BACK, from: 675, to: 795 },
  ],
};
