import { readFileSync } from 'node:fs';
import { z } from 'zod';
import { BookTemplate } from '../../src/trade/demo/demo-book.ts';
import { Coating } from '../../src/trade/model/coating.ts';
import { Equipment } from '../../src/trade/model/equipment.ts';
import { Technician } from '../../src/trade/model/people.ts';
import { Recipe } from '../../src/trade/model/recipe.ts';
import { AirZone, Place, Shop } from '../../src/trade/model/shop.ts';

const read = <T>(name: string, schema: z.ZodType<T>): T =>
  schema.parse(JSON.parse(readFileSync(new URL(`../../seed/${name}.json`, import.meta.url), 'utf8')));

export const recipeFiles = [
  'one-layer-ceramic',
  'multi-layer-ceramic',
  'correction',
  'new-car',
  'maintenance',
  'after-check',
  'walk-in-wash',
] as const;

/** The invented demo shop, read from its files and checked by the trade's schemas. */
export const demo = {
  shop: read('shop', z.strictObject(Shop.shape)),
  airZones: read('air-zones', z.array(AirZone)),
  places: read('places', z.array(Place)),
  technicians: read('technicians', z.array(Technician)),
  equipment: read('equipment', z.array(Equipment)),
  coatings: read('coatings', z.array(Coating)),
  recipes: recipeFiles.map((file) => read(`recipes/${file}`, Recipe)),
  book: read('book', BookTemplate),
};

/** A recipe of the demo shop by its id. */
export const demoRecipe = (id: string): Recipe => demo.recipes.find((recipe) => recipe.id === id)!;
