import { BudgetWindows } from '../../engine/calendar/budget-windows.ts';
import { WorkedPieces } from '../../engine/calendar/worked-pieces.ts';
import type { Interval } from '../../engine/problem/problem.ts';
import { type PlanOrder, START_TO_START, WAIT } from './arcs.ts';
import { calendarOf } from './known-calendars.ts';
import { ABSENT, modeOf, ON_DEMAND, type PlanNodes } from './plan-nodes.ts';

interface User {
  readonly node: number;
  readonly rank: number;
  readonly amount: number;
  readonly from: number;
  readonly to: number;
}

/**
 * Keeps the plan's sequence of work on people and equipment. Each resource is split into equal grains, and each grain
 * passes from one piece of work to the next, so that no resource is overdrawn whatever the durations turn out to be: the
 * chaining of N. Policella, A. Cesta, A. Oddi and S. Smith, "From precedence constraint posting to partial order
 * schedules", AI Communications 20 (2007).
 *
 * @param rank order in which work with equal planned starts is taken.
 */
export function addResourceOrder(nodes: PlanNodes, rank: Int32Array, order: PlanOrder): void {
  const users = usersByResource(nodes, rank);
  for (let resource = 0; resource < users.length; resource++) {
    const list = users[resource]!;
    const { capacity, kind } = nodes.problem.resources[resource]!;
    const amount = list[0]?.amount ?? 0;
    if (amount === 0) continue;
    const units = Math.floor(capacity / amount);
    const interchangeable = kind === 'equipment' && units > 1 && allUse(list, amount);
    if (interchangeable && mostAtOnce(list) <= units) addPool(resource, units, list, order);
    else addChains(nodes, resource, list, order);
  }
}

function usersByResource(nodes: PlanNodes, rank: Int32Array): User[][] {
  const { problem, presence, start, end, settled } = nodes;
  const users: User[][] = [];
  for (let resource = 0; resource < problem.resources.length; resource++) users.push([]);
  for (let o = 0; o < problem.operations.length; o++) {
    if (presence[o] === ABSENT || settled[o] === 1) continue;
    const mode = modeOf(nodes, o);
    if (mode.work === 0) continue;
    for (const { resource, amount } of mode.uses) {
      if (amount > 0) users[resource]!.push({ node: o, rank: rank[o]!, amount, from: start[o]!, to: end[o]! });
    }
  }
  for (const list of users) list.sort(inTime);
  return users;
}

const inTime = (a: User, b: User): number => a.from - b.from || a.rank - b.rank;
const ascending = (a: number, b: number): number => a - b;

function allUse(users: readonly User[], amount: number): boolean {
  for (const user of users) if (user.amount !== amount) return false;
  return true;
}

function mostAtOnce(users: readonly User[]): number {
  const ends: number[] = [];
  for (const { to } of users) ends.push(to);
  ends.sort(ascending);
  let most = 0;
  let ended = 0;
  for (let k = 0; k < users.length; k++) {
    const { from, to } = users[k]!;
    while (ended < ends.length && ends[ended]! <= from) ended++;
    if (to > from) most = Math.max(most, k + 1 - ended);
  }
  return most;
}

function addPool(resource: number, units: number, users: readonly User[], order: PlanOrder): void {
  const members: number[] = [];
  for (const { node } of users) members.push(node);
  order.pools.push({ resource, units, members });
  for (let k = 1; k < members.length; k++) order.after(members[k - 1]!, members[k]!, WAIT.order);
}

function addChains(nodes: PlanNodes, resource: number, users: readonly User[], order: PlanOrder): void {
  const { capacity, kind } = nodes.problem.resources[resource]!;
  const grain = grainOf(users, capacity);
  const grains: User[][] = [];
  for (let k = 0; k < capacity / grain; k++) grains.push([]);
  const waitsFor = kind === 'person' ? WAIT.person : WAIT.equipment;
  for (const user of users) {
    for (const held of grainsFor(nodes, grains, user, user.amount / grain)) {
      for (const other of held) {
        if (other.to <= user.from) order.after(other.node, user.node, waitsFor, resource);
        else {
          order.clearOf.push({ node: user.node, of: other.node });
          order.add(other.node, user.node, START_TO_START, 0, waitsFor, resource);
        }
      }
      passOn(held, user, nodes.presence[user.node] === ON_DEMAND);
    }
  }
}

function grainOf(users: readonly User[], capacity: number): number {
  let grain = capacity;
  for (const { amount } of users) grain = greatestCommonDivisor(grain, amount);
  return grain;
}

/** Grains that are free, and, where these are too few, those of work that pauses meanwhile. */
function grainsFor(nodes: PlanNodes, grains: readonly User[][], user: User, need: number): User[][] {
  const free: User[][] = [];
  for (const held of grains) if (isFree(held, user.from)) free.push(held);
  // The grain given back last goes on first: it is the likeliest to have been waited for anyway.
  if (free.length > 1) free.sort(laterFirst);
  const taken = free.slice(0, need);
  for (let k = 0; k < grains.length && taken.length < need; k++) {
    if (!taken.includes(grains[k]!) && pausesFor(nodes, grains[k]!, user)) taken.push(grains[k]!);
  }
  return taken;
}

function isFree(held: readonly User[], minute: number): boolean {
  for (const { to } of held) if (to > minute) return false;
  return true;
}

function pausesFor(nodes: PlanNodes, held: readonly User[], user: User): boolean {
  for (const other of held) {
    if (other.to > user.from && !isClear(piecesOf(nodes, other.node), user)) return false;
  }
  return true;
}

/** Whoever comes next holds a grain too; of those before, who is still at work, or, before a remedy that may not be done, all. */
function passOn(held: User[], user: User, mayNotCome: boolean): void {
  const keep: User[] = [];
  for (const other of held) if ((mayNotCome || other.to > user.from) && !keep.includes(other)) keep.push(other);
  held.length = 0;
  held.push(...keep, user);
}

function lastEnd(held: readonly User[]): number {
  let latest = -1;
  for (const { to } of held) latest = Math.max(latest, to);
  return latest;
}

const laterFirst = (a: readonly User[], b: readonly User[]): number => lastEnd(b) - lastEnd(a);

function isClear(pieces: readonly Interval[], { from, to }: User): boolean {
  for (const piece of pieces) if (piece.to > from && piece.from < to) return false;
  return true;
}

function piecesOf(nodes: PlanNodes, operation: number): Interval[] {
  const { problem, start, end } = nodes;
  const { progress, budget } = modeOf(nodes, operation);
  if (progress === undefined) return [{ from: start[operation]!, to: end[operation]! }];
  const pieces = new WorkedPieces();
  const windows = budget === undefined ? null : new BudgetWindows(problem.budgets[budget]!, 0);
  pieces.ofSpan(calendarOf(problem.progresses[progress]!), windows, start[operation]!, end[operation]!);
  const list: Interval[] = [];
  for (let k = 0; k < pieces.count; k++) list.push({ from: pieces.from[k]!, to: pieces.to[k]! });
  return list;
}

function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b);
}
