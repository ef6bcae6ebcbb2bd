import type { Objection } from '../../problems/shop-problem.ts';
import { airGate } from './air-gate.ts';
import { carGate } from './car-gate.ts';
import { conditionsGate } from './conditions-gate.ts';
import { lagGate } from './lag-gate.ts';
import { peopleGate } from './people-gate.ts';
import { scopeGate } from './scope-gate.ts';
import type { Situation } from './situation.ts';

/** Everything that stands against starting an operation; empty when every gate is open. */
export function shutGates(situation: Situation): Objection[] {
  return [carGate, lagGate, scopeGate, conditionsGate, peopleGate, airGate].flatMap((gate) => gate(situation));
}
