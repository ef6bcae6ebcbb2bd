import { DateTime } from 'luxon';
import { recordKey } from '../../../trade/formulate/floor-record.ts';
import type { Technician } from '../../../trade/model/people.ts';
import type { Objection } from '../../problems/shop-problem.ts';
import { stepOf } from '../recipe-step.ts';
import { workers } from '../what-happened.ts';
import type { Situation } from './situation.ts';

/** Enough people, with the skill and an unexpired certificate, and none of them with both hands elsewhere. */
export function peopleGate(situation: Situation): Objection[] {
  const { by, step } = situation;
  const objections: Objection[] = [];
  if (step !== null && by.length < step.crew.size) {
    objections.push({
      rule: 'crew',
      field: 'by',
      text: `It takes ${step.crew.size} ${step.crew.size === 1 ? 'person' : 'people'}; ${by.length} named.`,
    });
  }
  for (const person of by) objections.push(...skillOf(person, situation), ...busy(person, situation));
  return objections;
}

function skillOf(person: Technician, { step, coatings, at, shop }: Situation): Objection[] {
  if (step === null) return [];
  const objections: Objection[] = [];
  const { skill, level, certified } = step.crew;
  const held = person.skills.find((each) => each.skill === skill)?.level ?? 0;
  if (skill !== null && held < level) {
    const has = held === 0 ? 'does not have it' : `has level ${held}`;
    objections.push({
      rule: 'skill',
      field: 'by',
      text: `It needs ${skill} at level ${level}; ${person.name} ${has}.`,
    });
  }
  if (certified) {
    const today = DateTime.fromMillis(at, { zone: shop.timeZone }).toISODate()!;
    const name = coatings.find((each) => each.id === step.coatingId)?.name ?? 'the coating';
    const dates = person.certificates.filter((each) => each.coatingId === step.coatingId).map((each) => each.expiresOn);
    const last = dates.sort().at(-1);
    if (last === undefined) {
      objections.push({ rule: 'certificate', field: 'by', text: `${person.name} has no certificate for ${name}.` });
    } else if (last < today) {
      objections.push({
        rule: 'certificate',
        field: 'by',
        text: `The certificate of ${person.name} for ${name} expired on ${last}; today is ${today}.`,
      });
    }
  }
  return objections;
}

function busy(person: Technician, situation: Situation): Objection[] {
  if (situation.step?.attendance.kind === 'unattended') return [];
  return [situation, ...situation.others].flatMap((car) =>
    [...car.happened.work]
      .filter(
        ([key, work]) => !(car === situation && key === recordKey(situation.operation)) && work.state === 'underWay',
      )
      .filter(([key, work]) => workers(work).includes(person.id) && takesHands(stepOf(car.recipe, key)))
      .map(([key]) => ({
        rule: 'busy',
        field: 'by',
        text: `${person.name} is still at ${stepOf(car.recipe, key)?.label ?? key} on ${car.job.vehicle.registration || car.job.vehicle.class}.`,
      })),
  );
}

const takesHands = (step: { attendance: { kind: string } } | null): boolean =>
  step === null || step.attendance.kind === 'handsOn';
