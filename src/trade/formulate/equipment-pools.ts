import type { Resource } from '../../engine/problem/problem.ts';
import type { EquipmentKind } from '../model/equipment.ts';
import type { Book } from './book.ts';

/** Like things of one kind in one air zone (null: they go anywhere), as one resource. */
export interface EquipmentPool {
  readonly kind: (typeof EquipmentKind.options)[number];
  readonly zone: number | null;
  readonly resource: number;
  readonly capacity: number;
}

export function equipmentPools(book: Book, firstResource: number): EquipmentPool[] {
  const zoneOf = new Map(book.airZones.map(({ id }, index) => [id, index]));
  const pools = new Map<string, { kind: EquipmentPool['kind']; zone: number | null; capacity: number }>();
  for (const { kind, airZoneId, count, outOfOrder } of book.equipment) {
    if (outOfOrder) continue;
    const zone = airZoneId === null ? null : (zoneOf.get(airZoneId) ?? null);
    const pool = pools.get(`${kind} ${zone}`);
    if (pool === undefined) pools.set(`${kind} ${zone}`, { kind, zone, capacity: count });
    else pool.capacity += count;
  }
  return [...pools.values()].map((pool, k) => ({ ...pool, resource: firstResource + k }));
}

export function poolResource({ kind, zone, capacity }: EquipmentPool): Resource {
  return { name: zone === null ? kind : `${kind}, zone ${zone}`, capacity, kind: 'equipment' };
}
