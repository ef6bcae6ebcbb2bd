import type { Problem } from '../problem/problem.ts';
import type { Schedule } from '../problem/solution.ts';
import { checkAir } from './air.ts';
import { checkBudgets } from './budgets.ts';
import { checkConditions } from './conditions.ts';
import { checkFactsAndFreezes } from './facts-and-freezes.ts';
import { checkOneCar, checkPlaceOpen } from './one-car.ts';
import { checkOpeningHours } from './opening-hours.ts';
import { checkPauses } from './pauses.ts';
import { checkPeople, checkSameCrew } from './people.ts';
import { readHolds } from './place-holds.ts';
import { readPlan } from './plan-read.ts';
import { checkPresence } from './presence.ts';
import { checkStays } from './stays.ts';
import { checkStills } from './stills.ts';
import { checkTandem } from './tandem.ts';
import { checkReleasesAndDeadlines, checkTimeLags } from './time-lags.ts';
import type { Violation } from './violation.ts';
import { checkWellFormed } from './well-formed.ts';

export type { Invariant, Violation } from './violation.ts';

/**
 * The independent checker: every way in which a schedule breaks a rule of its problem; none means the plan may be
 * stored. It shares nothing with the solver but the problem's types, and runs in O(n log n) over operations, stays,
 * worked pieces and lags. The problem must have passed `validate`.
 */
export function check(problem: Problem, schedule: Schedule): Violation[] {
  const violations: Violation[] = [];
  const report = (violation: Violation) => {
    violations.push(violation);
  };
  if (!checkWellFormed(problem, schedule, report)) return violations;
  const plan = readPlan(problem, schedule);
  const holds = readHolds(plan);
  checkTimeLags(plan, report);
  checkReleasesAndDeadlines(plan, report);
  checkPresence(plan, report);
  checkStays(plan, report);
  checkOneCar(plan, holds, report);
  checkPlaceOpen(plan, report);
  checkTandem(plan, holds, report);
  checkStills(plan, report);
  checkPeople(plan, report);
  checkSameCrew(plan, report);
  checkBudgets(plan, report);
  checkPauses(plan, report);
  checkAir(plan, report);
  checkConditions(plan, report);
  checkFactsAndFreezes(plan, report);
  checkOpeningHours(plan, report);
  return violations;
}
