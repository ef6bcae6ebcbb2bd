import type { BudgetWindows } from '../../engine/calendar/budget-windows.ts';
import type { IntervalSet } from '../../engine/calendar/interval-set.ts';
import { NEVER } from '../../engine/calendar/never.ts';
import type { WorkCalendar } from '../../engine/calendar/work-calendar.ts';
import type { Interval, Mode } from '../../engine/problem/problem.ts';
import type { PlanOrder, Window } from './arcs.ts';
import { calendarOf, intervalSetOf, staysInside } from './known-calendars.ts';
import { ListsByNode } from './lists-by-node.ts';
import { NodeRules, type PoolPlace } from './node-rules.ts';
import { OpeningsOfWork } from './openings-of-work.ts';
import { ABSENT, leavingNode, modeOf, ON_DEMAND, type PlanNodes, stayNode } from './plan-nodes.ts';
import type { WindowBlock } from './window-blocks.ts';

/** What the rules of nodes are made from. */
export interface PlanToRule {
  readonly nodes: PlanNodes;
  readonly order: PlanOrder;
  readonly blocks: readonly WindowBlock[];
  /** By budget of the problem. */
  readonly budgets: readonly BudgetWindows[];
  /** Nodes in the order they are carried out in. */
  readonly carriedOut: readonly number[];
}

/** By node, what it needs apart from its arcs. */
export function rulesOfNodes(plan: PlanToRule): NodeRules[] {
  const writer = new RuleWriter(plan);
  const rules: NodeRules[] = [];
  for (let node = 0; node < plan.nodes.count; node++) rules.push(writer.rulesOf(node));
  return rules;
}

class RuleWriter {
  readonly #nodes: PlanNodes;
  readonly #budgets: readonly BudgetWindows[];
  readonly #blockOf: (WindowBlock | undefined)[];
  readonly #windowsInto: ListsByNode<Window>;
  readonly #clearOf: ListsByNode<number>;
  readonly #remedies: ListsByNode<number>;
  readonly #pools: ListsByNode<PoolPlace>;
  /** Hours in which a car may be dropped off or picked up, by the node that is the drop-off or pickup. */
  readonly #comesAndGoes: (readonly Interval[] | undefined)[];
  readonly #openingsOfWork: OpeningsOfWork;

  constructor({ nodes, order, blocks, budgets, carriedOut }: PlanToRule) {
    const { count, demandedAt } = nodes;
    this.#nodes = nodes;
    this.#budgets = budgets;
    this.#blockOf = new Array(count).fill(undefined);
    for (const block of blocks) this.#blockOf[block.head] = block;
    this.#windowsInto = new ListsByNode(count);
    for (const window of order.windows) this.#windowsInto.add(window.to, window);
    this.#clearOf = new ListsByNode(count);
    for (const { node, of } of order.clearOf) this.#clearOf.add(node, of);
    this.#remedies = new ListsByNode(count);
    for (const node of carriedOut) {
      if (node < demandedAt.length && demandedAt[node]! >= 0) this.#remedies.add(demandedAt[node]!, node);
    }
    this.#pools = new ListsByNode(count);
    for (const { units, members } of order.pools) {
      for (let index = 0; index < members.length; index++) this.#pools.add(members[index]!, { units, members, index });
    }
    this.#comesAndGoes = new Array(count).fill(undefined);
    for (let job = 0; job < nodes.problem.jobs.length; job++) this.#readOpenings(job);
    this.#openingsOfWork = new OpeningsOfWork(nodes);
  }

  #readOpenings(job: number): void {
    const { problem, stops } = this.#nodes;
    const { arrival, handover, dropOffOpen, pickupOpen } = problem.jobs[job]!;
    const first = stops[job]![0];
    if (dropOffOpen !== undefined) {
      if (this.#isPlanned(arrival)) this.#comesAndGoes[arrival] = dropOffOpen;
      else if (first !== undefined) this.#comesAndGoes[stayNode(problem, first)] = dropOffOpen;
    }
    if (pickupOpen === undefined) return;
    this.#comesAndGoes[this.#isPlanned(handover) ? handover : leavingNode(problem, job)] = pickupOpen;
  }

  #isPlanned(operation: number | undefined): operation is number {
    if (operation === undefined) return false;
    const presence = this.#nodes.presence[operation];
    return presence !== ABSENT && presence !== ON_DEMAND;
  }

  rulesOf(node: number): NodeRules {
    const { problem } = this.#nodes;
    const operation = problem.operations[node];
    const mode = operation !== undefined && this.#nodes.mode[node]! >= 0 ? modeOf(this.#nodes, node) : undefined;
    const calendar = mode?.progress === undefined ? null : calendarOf(problem.progresses[mode.progress]!);
    const opening = this.#comesAndGoes[node];
    const ofPeople = this.#hoursOf(mode, calendar);
    if (operation !== undefined)
      for (const open of this.#openingsOfWork.of(node)) ofPeople.hours.push(intervalSetOf(open));
    return new NodeRules(
      {
        calendar,
        pausable: operation?.pausable ?? true,
        opening: opening === undefined ? null : intervalSetOf(opening),
        allowed: mode?.allowed === undefined ? null : intervalSetOf(mode.allowed),
        budget: mode?.budget === undefined ? null : this.#budgets[mode.budget]!,
        hours: ofPeople.hours,
        leastFirstPiece: operation?.leastFirstPiece ?? 0,
        longestPause: operation?.longestPause ?? NEVER,
        clearOf: this.#clearOf.of(node),
        pools: this.#pools.of(node),
        overtime: ofPeople.overtime,
        open: ofPeople.open,
        windowsInto: this.#windowsInto.of(node),
        remedies: this.#remedies.of(node),
        block: this.#blockOf[node] ?? null,
      },
      NEVER,
    );
  }

  #hoursOf(mode: Mode | undefined, calendar: WorkCalendar | null): HoursOfPeople {
    const { problem } = this.#nodes;
    const found: HoursOfPeople = { hours: [], overtime: [], open: null };
    if (mode === undefined) return found;
    for (const { resource, amount } of mode.uses) {
      if (amount <= 0) continue;
      const { kind, open, overtime } = problem.resources[resource]!;
      if (overtime !== undefined) found.overtime.push(intervalSetOf(overtime));
      if (open === undefined) continue;
      const hours = intervalSetOf(open);
      if (kind === 'person') found.open ??= hours;
      if (!staysInside(calendar, hours, problem.horizon)) found.hours.push(hours);
    }
    return found;
  }
}

/** Hours of everybody and everything that a mode uses. */
interface HoursOfPeople {
  /** Where its own progress may run outside them. */
  readonly hours: IntervalSet[];
  readonly overtime: IntervalSet[];
  /** Of the first person. */
  open: IntervalSet | null;
}
