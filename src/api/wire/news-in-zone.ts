import { z } from 'zod';
import type { Instant } from '../../trade/model/time.ts';
import { wireInstantIn } from './instant.ts';

const namesAnInstant = /^(at|from|to|start|end|until|by)$|(At|From|To|Until|By)$/;
/** Later than 1973: no count of anything that news tells comes near it. */
const leastInstant = 1e11;

/**
 * The body of a piece of news with its instants as text. News has no schema, since new kinds of it come: an instant is
 * a whole number under a name that ends as those of instants do, in the domain's milliseconds.
 */
export function newsInZone(body: unknown, zone: string): unknown {
  if (Array.isArray(body)) return body.map((each) => newsInZone(each, zone));
  if (typeof body !== 'object' || body === null) return body;
  return Object.fromEntries(
    Object.entries(body).map(([name, value]) =>
      isInstant(name, value) ? [name, z.encode(wireInstantIn(zone), value)] : [name, newsInZone(value, zone)],
    ),
  );
}

function isInstant(name: string, value: unknown): value is Instant {
  return namesAnInstant.test(name) && Number.isInteger(value) && (value as number) >= leastInstant;
}
