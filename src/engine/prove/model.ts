import { TimeLags } from '../constraints/time-lag.ts';
import { Solver } from '../learn/solver.ts';
import type { Problem } from '../problem/problem.ts';
import { addAir } from './air.ts';
import { addBudgets } from './budgets.ts';
import { addCrews } from './crews.ts';
import { addDemands, addLags } from './demands.ts';
import { Logic } from './logic.ts';
import { spansOf } from './mode-span.ts';
import { type ModelledOperation, modelOperation } from './modelled-operation.ts';
import { addOpeningHours } from './opening.ts';
import { addOrders } from './orders.ts';
import { addPlaces } from './places.ts';
import { type Precedence, readPrecedence } from './precedence.ts';
import { addResources } from './resources.ts';
import { addItineraries, type Itinerary } from './stays.ts';
import { addStills } from './stills.ts';
import { addTandem } from './tandem.ts';
import { addWorkInStays } from './work-in-stays.ts';

/** Two operations that may not overlap; the Boolean `first` says that `a` comes before `b`. */
export interface Order {
  readonly a: number;
  readonly b: number;
  readonly first: number;
}

/** The problem as variables and constraints of a learning solver, without an objective. */
export interface Model {
  readonly solver: Solver;
  readonly lags: TimeLags;
  readonly logic: Logic;
  readonly operations: readonly ModelledOperation[];
  readonly orders: readonly Order[];
  readonly precedence: Precedence;
  /** By job. */
  readonly itineraries: readonly Itinerary[];
}

/** Builds the model; undefined when the problem contradicts itself before any search. */
export function buildModel(problem: Problem, decay: number): Model | undefined {
  const spans = spansOf(problem);
  const precedence = readPrecedence(problem, spans);
  if (precedence.contradictory) return undefined;
  const solver = new Solver(decay);
  const lags = new TimeLags(solver);
  const logic = new Logic(solver, lags);
  const operations: ModelledOperation[] = [];
  for (let o = 0; o < problem.operations.length; o++) {
    const modelled = modelOperation(solver, problem, o, spans[o]!);
    if (modelled === undefined) return undefined;
    operations.push(modelled);
  }
  const remedies = addLags(problem, operations, logic);
  addDemands(problem, operations, logic, remedies);
  const orders = addOrders(problem, operations, solver, lags, precedence);
  const itineraries = addItineraries(problem, operations, logic);
  addWorkInStays(problem, operations, itineraries, logic);
  addOpeningHours(problem, operations, itineraries, logic);
  addPlaces(problem, itineraries, logic);
  addTandem(problem, operations, itineraries, logic);
  addStills(problem, operations, itineraries, logic);
  addAir(problem, operations, itineraries, precedence, logic);
  const held = addCrews(problem, operations, logic);
  addResources(problem, operations, orders, solver, precedence, held);
  addBudgets(problem, operations, solver);
  if (solver.failed) return undefined;
  return { solver, lags, logic, operations, orders, precedence, itineraries };
}
