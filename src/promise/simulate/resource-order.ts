import { BudgetWindows } from '../../engine/calendar/budget-windows.ts';
import { WorkedPieces } from '../../engine/calendar/worked-pieces.ts';
import type { Interval } from '../../engine/problem/problem.ts';
import type { PlanOrder } from './arcs.ts';
import { calendarOf } from './known-calendars.ts';
import { ABSENT, modeOf, ON_DEMAND, type PlanNodes } from './plan-nodes.ts';

interface User {
  readonly node: number;
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
  for (const [resource, list] of users.entries()) {
    const { capacity, kind } = nodes.problem.resources[resource]!;
    const amount = list[0]?.amount ?? 0;
    if (amount === 0) continue;
    const units = Math.floor(capacity / amount);
    const interchangeable = kind === 'equipment' && units > 1 && list.every((user) => user.amount === amount);
    if (interchangeable && mostAtOnce(list) <= units) {
      order.pools.push({ resource, units, members: list.map(({ node }) => node) });
      for (let k = 1; k < list.length; k++) order.after(list[k - 1]!.node, list[k]!.node, 'order');
    } else addChains(nodes, resource, list, order);
  }
}

function usersByResource(nodes: PlanNodes, rank: Int32Array): User[][] {
  const { problem, presence, start, end, settled } = nodes;
  const users: User[][] = problem.resources.map(() => []);
  for (const o of problem.operations.keys()) {
    if (presence[o] === ABSENT || settled[o] === 1) continue;
    const mode = modeOf(nodes, o);
    if (mode.work === 0) continue;
    for (const { resource, amount } of mode.uses) {
      if (amount > 0) users[resource]!.push({ node: o, amount, from: start[o]!, to: end[o]! });
    }
  }
  for (const list of users) list.sort((a, b) => a.from - b.from || rank[a.node]! - rank[b.node]!);
  return users;
}

function mostAtOnce(users: readonly User[]): number {
  const ends = users.map(({ to }) => to).sort((a, b) => a - b);
  let most = 0;
  let ended = 0;
  for (const [k, { from, to }] of users.entries()) {
    while (ended < ends.length && ends[ended]! <= from) ended++;
    if (to > from) most = Math.max(most, k + 1 - ended);
  }
  return most;
}

function addChains(nodes: PlanNodes, resource: number, users: readonly User[], order: PlanOrder): void {
  const { problem, presence } = nodes;
  const { capacity, kind } = problem.resources[resource]!;
  const grain = users.reduce((divisor, { amount }) => greatestCommonDivisor(divisor, amount), capacity);
  const grains: User[][] = Array.from({ length: capacity / grain }, () => []);
  const waitsFor = kind === 'person' ? 'person' : 'equipment';
  for (const user of users) {
    const free = grains.filter((held) => held.every((other) => other.to <= user.from));
    // The grain given back last goes on first: it is the likeliest to have been waited for anyway.
    free.sort((a, b) => lastEnd(b) - lastEnd(a));
    const need = user.amount / grain;
    const taken = free.slice(0, need);
    if (taken.length < need) {
      const pausing = grains.filter(
        (held) =>
          !taken.includes(held) &&
          held.every((other) => other.to <= user.from || isClear(piecesOf(nodes, other.node), user)),
      );
      taken.push(...pausing.slice(0, need - taken.length));
    }
    for (const held of taken) {
      for (const other of held) {
        if (other.to <= user.from) order.after(other.node, user.node, waitsFor, resource);
        else {
          order.clearOf.push({ node: user.node, of: other.node });
          order.add({
            from: other.node,
            fromEnd: false,
            to: user.node,
            toEnd: false,
            lag: 0,
            waitsFor,
            about: resource,
          });
        }
      }
      const still = held.filter((other) => other.to > user.from);
      const keep = presence[user.node] === ON_DEMAND ? held : still;
      held.splice(0, held.length, ...keep.filter((other, k) => keep.indexOf(other) === k), user);
    }
  }
}

const lastEnd = (held: readonly User[]): number => held.reduce((latest, { to }) => Math.max(latest, to), -1);

const isClear = (pieces: readonly Interval[], { from, to }: User): boolean =>
  pieces.every((piece) => piece.to <= from || piece.from >= to);

function piecesOf(nodes: PlanNodes, operation: number): Interval[] {
  const { problem, start, end } = nodes;
  const { progress, budget } = modeOf(nodes, operation);
  if (progress === undefined) return [{ from: start[operation]!, to: end[operation]! }];
  const pieces = new WorkedPieces();
  const windows = budget === undefined ? null : new BudgetWindows(problem.budgets[budget]!, 0);
  pieces.ofSpan(calendarOf(problem.progresses[progress]!), windows, start[operation]!, end[operation]!);
  return Array.from({ length: pieces.count }, (_, k) => ({ from: pieces.from[k]!, to: pieces.to[k]! }));
}

function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b);
}
