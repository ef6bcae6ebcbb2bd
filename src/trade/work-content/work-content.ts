import type { WorkKind } from '../model/recipe.ts';
import { commonNorms } from './common-norms.ts';
import { quantityLines } from './quantities.ts';
import type { WorkFacts } from './work-facts.ts';
import type { KindNorm, WorkNorms } from './work-norms.ts';

export interface BreakdownLine {
  readonly label: string;
  /** Negative where a second person takes work away. */
  readonly minutes: number;
}

/** Whole minutes of an operation and the lines that add up to them. */
export interface Breakdown {
  readonly minutes: number;
  readonly lines: readonly BreakdownLine[];
}

/**
 * Work content of one operation: set-up, then units of area, wheels or passes at the shop's norm, then what the
 * crew's size and pace change. Minutes are elapsed working minutes of the whole crew.
 *
 * @throws RangeError naming the fact that is out of range.
 */
export function workContent(kind: WorkKind, facts: WorkFacts, norms: WorkNorms = commonNorms): Breakdown {
  checkFacts(facts);
  const norm = norms.kinds[kind];
  const lines: BreakdownLine[] = [];
  if (kind === 'customerAnswer') lines.push({ label: 'time to answer', minutes: facts.answerMinutes });
  if (norm.setUpMinutes > 0) lines.push({ label: setUpLabel(norm), minutes: Math.round(norm.setUpMinutes) });
  lines.push(...quantityLines(norm, facts, norms));
  // Setting up a machine to do nothing is no work: a car without defects is not polished.
  if (norm.unit !== 'visit' && isSetUpAlone(lines, norm)) return nothing;
  const total = sum(lines);
  const shared = norm.divisible ? shareAmongCrew(total, facts.crewSize, norms) : total;
  if (shared !== total) lines.push({ label: `crew of ${facts.crewSize}`, minutes: shared - total });
  const paced = norm.paced ? Math.ceil((shared * 100) / facts.pacePercent) : shared;
  if (paced !== shared) lines.push({ label: `pace ${facts.pacePercent} %`, minutes: paced - shared });
  return { minutes: paced, lines };
}

const nothing: Breakdown = { minutes: 0, lines: [] };

const setUpLabel = (norm: KindNorm): string => (norm.unit === 'visit' ? 'once a car' : 'set-up');

function isSetUpAlone(lines: readonly BreakdownLine[], norm: KindNorm): boolean {
  for (const { label, minutes } of lines) if (minutes !== 0 && label !== setUpLabel(norm)) return false;
  return true;
}

function shareAmongCrew(minutes: number, crewSize: number, norms: WorkNorms): number {
  const output = norms.crewOutputPercent[Math.max(1, crewSize) - 1]!;
  return Math.ceil((minutes * 100) / output);
}

function sum(lines: readonly BreakdownLine[]): number {
  let total = 0;
  for (const { minutes } of lines) total += minutes;
  return total;
}

function checkFacts(facts: WorkFacts): void {
  checkRange('crewSize', facts.crewSize, 0, 4);
  checkRange('pacePercent', facts.pacePercent, 1, 1000);
  checkRange('soil', facts.soil, 0, 3);
  checkRange('brakeDust', facts.brakeDust, 0, 3);
  for (const [panel, grade] of Object.entries(facts.defects)) checkRange(`defects.${panel}`, grade, 0, 4);
}

function checkRange(field: string, value: number, from: number, to: number): void {
  if (Number.isFinite(value) && value >= from && value <= to) return;
  throw new RangeError(`${field} is ${value}, must be ${from} to ${to}`);
}
