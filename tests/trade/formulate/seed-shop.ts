import { readdirSync, readFileSync } from 'node:fs';
import { z } from 'zod';
import type { Book } from '../../../src/trade/formulate/book.ts';
import { Coating } from '../../../src/trade/model/coating.ts';
import { Equipment } from '../../../src/trade/model/equipment.ts';
import { Technician } from '../../../src/trade/model/people.ts';
import { Recipe } from '../../../src/trade/model/recipe.ts';
import { AirZone, Place, Shop } from '../../../src/trade/model/shop.ts';
import type { Instant } from '../../../src/trade/model/time.ts';

const read = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../../seed/${name}`, import.meta.url), 'utf8'));

/** The demo shop (invented) with all its recipes and no jobs, at a Monday morning. */
export function seedShop(now = '2026-06-01T05:00:00Z'): Book {
  const recipes = readdirSync(new URL('../../../seed/recipes', import.meta.url)).sort();
  return {
    shop: Shop.parse(read('shop.json')),
    airZones: z.array(AirZone).parse(read('air-zones.json')),
    places: z.array(Place).parse(read('places.json')),
    technicians: z.array(Technician).parse(read('technicians.json')),
    equipment: z.array(Equipment).parse(read('equipment.json')),
    coatings: z.array(Coating).parse(read('coatings.json')),
    recipes: recipes.map((name) => Recipe.parse(read(`recipes/${name}`))),
    jobs: [],
    events: [],
    readings: [],
    previousPlan: null,
    now: Date.parse(now) as Instant,
    horizonDays: 21,
  };
}
