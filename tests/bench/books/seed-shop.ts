import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { BookTemplate, type BookTemplateEntry } from '../../../src/trade/demo/demo-book.ts';
import type { ShopData } from '../../../src/trade/formulate/book.ts';
import { Coating } from '../../../src/trade/model/coating.ts';
import { Equipment } from '../../../src/trade/model/equipment.ts';
import { AirZoneId, EquipmentId, PlaceId, type ShopId, TechnicianId } from '../../../src/trade/model/ids.ts';
import { Technician } from '../../../src/trade/model/people.ts';
import { Recipe } from '../../../src/trade/model/recipe.ts';
import { AirZone, Place, Shop } from '../../../src/trade/model/shop.ts';

/** Bays and people of the seed's shop. */
export const SEED_BAYS = 4;
export const SEED_PEOPLE = 5;

/** Enough coating for any book. */
const BOTTLES = 400;

export interface SeedShop extends ShopData {
  readonly template: readonly BookTemplateEntry[];
}

/**
 * The invented shop of the seed files, `copies` times under one roof: places, people, equipment and air zones once for
 * each copy, and one book. Read from `seed/` in the working directory.
 */
export function seedShop(copies: number, id: ShopId): SeedShop {
  const times = <T>(all: readonly T[], copyOf: (one: T, copy: number) => T) =>
    Array.from({ length: copies }, (_, copy) => all.map((one) => copyOf(one, copy))).flat();
  const named = (name: string, copy: number) => (copy === 0 ? name : `${name}-${copy + 1}`);
  const zone = (name: string | null, copy: number) => (name === null ? null : AirZoneId.parse(named(name, copy)));
  const place = (name: string, copy: number) => PlaceId.parse(named(name, copy));
  const bottle = { millilitresLeft: 50, expiresOn: '2031-12-31', openedAt: null };
  return {
    shop: { ...read('shop.json', Shop), id, name: `Bench shop ${id} (invented)` },
    airZones: times(read('air-zones.json', z.array(AirZone)), (each, copy) => ({
      ...each,
      id: AirZoneId.parse(named(each.id, copy)),
      name: named(each.name, copy),
    })),
    places: times(read('places.json', z.array(Place)), (each, copy) => ({
      ...each,
      id: place(each.id, copy),
      name: named(each.name, copy),
      airZoneId: zone(each.airZoneId, copy),
      blockedBy: each.blockedBy.map((other) => place(other, copy)),
    })),
    technicians: times(read('technicians.json', z.array(Technician)), (each, copy) => ({
      ...each,
      id: TechnicianId.parse(named(each.id, copy)),
      name: named(each.name, copy),
    })),
    equipment: times(read('equipment.json', z.array(Equipment)), (each, copy) => ({
      ...each,
      id: EquipmentId.parse(named(each.id, copy)),
      name: named(each.name, copy),
      airZoneId: zone(each.airZoneId, copy),
    })),
    coatings: read('coatings.json', z.array(Coating)).map((each) => ({
      ...each,
      stock: Array.from({ length: BOTTLES }, () => bottle),
    })),
    recipes: readdirSync(join('seed', 'recipes'))
      .filter((name) => name.endsWith('.json'))
      .sort()
      .map((name) => read(join('recipes', name), Recipe)),
    template: read('book.json', BookTemplate),
  };
}

function read<T>(name: string, schema: z.ZodType<T>): T {
  return schema.parse(JSON.parse(readFileSync(join('seed', name), 'utf8')));
}
