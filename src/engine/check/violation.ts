import type { Problem } from '../problem/problem.ts';

/**
 * What must always hold of a plan, by number:
 * 1 time lags and the work a plan consists of; 2 one car, one place, moves; 3 people and equipment; 4 pauses and ends;
 * 5 air; 6 water and release of coated cars; 7 conditions; 8 facts and frozen decisions; 9 opening hours.
 */
export type Invariant = 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8 | 9;

/** One rule broken once. */
export interface Violation {
  readonly invariant: Invariant;
  /** Short stable code of the rule. */
  readonly rule: string;
  /** A sentence that names operations, places and minutes. */
  readonly text: string;
  readonly operations: readonly number[];
  readonly stays: readonly number[];
}

/** Collects violations while the rules are read through. */
export type Report = (violation: Violation) => void;

export function operationName(problem: Problem, operation: number): string {
  const { name, job } = problem.operations[operation]!;
  return `"${name}" of "${problem.jobs[job]!.name}"`;
}

export function carName(problem: Problem, stay: number): string {
  return `the car of "${problem.jobs[problem.stays[stay]!.job]!.name}"`;
}

export function placeName(problem: Problem, place: number): string {
  return `"${problem.places[place]!.name}"`;
}
