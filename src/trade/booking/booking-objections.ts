import { DateTime } from 'luxon';
import type { Instant } from '../model/time.ts';
import { toldToCome } from '../model/told-to-come.ts';
import { stepsOf } from '../recipe/steps-of.ts';
import { certificateObjections } from './certificates.ts';
import { coatingStockObjections } from './coating-stock.ts';
import type { BookedJob, BookingObjection, BookingShop } from './objection.ts';
import { repaintObjections } from './repaint-age.ts';
import { vehicleFitObjections } from './vehicle-fit.ts';

/**
 * Everything that speaks against a booking before a slot is looked for: `refuse` cannot be booked as it stands, `ask`
 * needs a person's answer. Checked for the day of drop-off in the shop's zone.
 */
export function bookingObjections(job: BookedJob, data: BookingShop, now: Instant): BookingObjection[] {
  const dropOff = Math.max(toldToCome(job), now) as Instant;
  const day = DateTime.fromMillis(dropOff, { zone: data.shop.timeZone }).toISODate()!;
  const recipe = data.recipes.find((one) => one.id === job.recipeId);
  if (!recipe) return [{ field: 'recipeId', text: `no recipe "${job.recipeId}"`, severity: 'refuse' }];
  const objections: BookingObjection[] = [];
  if (job.dropOffAt !== null && job.dropOffAt < now) {
    objections.push({ field: 'dropOffAt', text: 'lies in the past', severity: 'refuse' });
  }
  job.addOns.forEach((addOn, index) => {
    const offered = recipe.steps.some((step) => step.presence.when === 'addOn' && step.presence.addOn === addOn);
    if (!offered) {
      objections.push({
        field: `addOns.${index}`,
        text: `${recipe.name} has no step for ${addOn}`,
        severity: 'refuse',
      });
    }
  });
  const steps = stepsOf(recipe, job);
  if (steps.some((step) => step.kind === 'coatLayer')) {
    objections.push(...repaintObjections(job.vehicle.repaints, day));
  }
  const booked = data.bookedMillilitres;
  objections.push(
    ...vehicleFitObjections(recipe, job.vehicle, data.places, steps),
    ...certificateObjections(steps, data.technicians, data.coatings, day),
    ...coatingStockObjections(recipe, job.vehicle.class, job.addOns, data.coatings, dropOff, day, booked),
  );
  return objections;
}
