import { z } from 'zod';
import { AirZoneId, EquipmentId } from './ids.ts';

export const EquipmentKind = z.enum([
  'infraRedLamp',
  'polisher',
  'pressureWasher',
  'compressor',
  'powerCircuit',
  'lift',
]);
export type EquipmentKind = z.infer<typeof EquipmentKind>;

/** `count` like things of which an operation takes some. */
export const Equipment = z.object({
  id: EquipmentId,
  name: z.string().min(1).max(80),
  kind: EquipmentKind,
  count: z.int().min(1).max(50),
  /** Where it is fixed; null when it goes anywhere. */
  airZoneId: AirZoneId.nullable(),
  outOfOrder: z.boolean(),
});
export type Equipment = z.infer<typeof Equipment>;
