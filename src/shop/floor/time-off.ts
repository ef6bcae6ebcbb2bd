import type { Records } from '../../store/store.ts';
import { addDays, localDate } from '../../trade/calendar/local-instant.ts';
import type { ShopId, TechnicianId } from '../../trade/model/ids.ts';
import type { Technician } from '../../trade/model/people.ts';
import type { DayException, Instant, LocalDate } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';
import { type Replanned, replan } from '../planning/replan.ts';
import { Invalid, NotFound } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import { foundShop } from '../records/found.ts';
import { raiseException } from '../records/raise-exception.ts';
import { tell } from '../records/tell.ts';

/** A technician is away (sick) from one instant to another; the book is planned again at once. @throws NotFound, Invalid (to) */
export async function takeTimeOff(
  deps: ShopDeps,
  input: { shopId: ShopId; technicianId: TechnicianId; from: Instant; to: Instant; note: string },
): Promise<Replanned> {
  const { shopId, technicianId, from, to, note } = input;
  if (to <= from) throw new Invalid('Time off ends after it begins.', 'to');
  if (to - from > 366 * 24 * 3_600_000) throw new Invalid('Time off is at most a year.', 'to');
  if (note.length > 200) throw new Invalid('A note has at most 200 characters.', 'note');
  await inShopTerms(() =>
    deps.store.transaction(shopId, async (records) => {
      const shop = await foundShop(records, shopId);
      const found = await records.technicians.get(shopId, technicianId);
      if (found === null) throw new NotFound('technician', technicianId, 'technicianId');
      const off = daysOff(from, to, shop.timeZone, note);
      const technician = { ...found.value, exceptions: [...found.value.exceptions, ...off] };
      await records.technicians.put(shopId, technician, found.version);
      await tell(records, shopId, deps.clock(), 'technician.timeOff', technicianId, { from, to, note });
      await askToHandOver(records, shopId, technician, from, deps.clock());
    }),
  );
  try {
    return await replan(deps, { shopId, reason: `time off: ${technicianId}` });
  } catch (problem) {
    // The time off stands; a plan with it is still owed.
    deps.replanner.ask(shopId, `time off: ${technicianId}`);
    throw problem;
  }
}

/** Work that somebody is at stays theirs until a person hands it over; the desk is told of each. */
async function askToHandOver(
  records: Records,
  shopId: ShopId,
  technician: Technician,
  from: Instant,
  now: Instant,
): Promise<void> {
  if (from > now) return;
  const plan = await records.plans.current(shopId);
  const own = (plan?.operations ?? []).filter(
    (each) => each.state === 'underWay' && each.people.includes(technician.id),
  );
  for (const work of own) {
    await raiseException(records, shopId, now, {
      kind: 'factAgainstRule',
      jobId: work.jobId,
      cause: `away ${technician.id} ${work.operation} ${from}`,
      text: `${technician.name} is away and still at ${work.label}: hand it over or interrupt it.`,
    });
  }
}

/** Time off as the days it touches: whole days between, parts of the first and the last. */
function daysOff(from: Instant, to: Instant, zone: string, note: string): DayException[] {
  const days: DayException[] = [];
  const last = localDate((to - 1) as Instant, zone);
  for (let date: LocalDate = localDate(from, zone); date <= last; date = addDays(date, 1)) {
    const begins = date === localDate(from, zone) ? clockTime(from, zone) : '00:00';
    const ends = date === localDate(to, zone) ? clockTime(to, zone) : '24:00';
    const whole = begins === '00:00' && ends === '24:00';
    days.push({ date, kind: 'off', parts: whole ? [] : [{ from: begins, to: ends }], note });
  }
  return days;
}

function clockTime(at: Instant, zone: string): string {
  return new Intl.DateTimeFormat('en-GB', {
    timeZone: zone,
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
  }).format(at);
}
