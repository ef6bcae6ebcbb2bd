import { readdir, readFile } from 'node:fs/promises';
import { z } from 'zod';
import { BookTemplate, type BookTemplateEntry } from '../../trade/demo/demo-book.ts';
import { PastTemplate } from '../../trade/demo/past-template.ts';
import type { ShopData } from '../../trade/formulate/book.ts';
import { Coating } from '../../trade/model/coating.ts';
import { Equipment } from '../../trade/model/equipment.ts';
import { Technician } from '../../trade/model/people.ts';
import { Recipe } from '../../trade/model/recipe.ts';
import { AirZone, Place, Shop } from '../../trade/model/shop.ts';

/** Beside `src` in the checkout, and beside `dist` where it is installed. */
const SEED = new URL('../../../seed/', import.meta.url);

/** The invented demo shop with the templates of its book and its past. */
export interface DemoData extends ShopData {
  readonly book: readonly BookTemplateEntry[];
  readonly past: PastTemplate;
}

/** Reads the demo from the seed files. */
export async function readDemo(): Promise<DemoData> {
  const recipeFiles = (await readdir(new URL('recipes/', SEED))).filter((name) => name.endsWith('.json')).sort();
  return {
    shop: await read('shop.json', Shop),
    airZones: await read('air-zones.json', z.array(AirZone)),
    places: await read('places.json', z.array(Place)),
    technicians: await read('technicians.json', z.array(Technician)),
    equipment: await read('equipment.json', z.array(Equipment)),
    coatings: await read('coatings.json', z.array(Coating)),
    recipes: await Promise.all(recipeFiles.map((name) => read(`recipes/${name}`, Recipe))),
    book: await read('book.json', BookTemplate),
    past: await read('past.json', PastTemplate),
  };
}

async function read<T>(name: string, schema: z.ZodType<T>): Promise<T> {
  return schema.parse(JSON.parse(await readFile(new URL(name, SEED), 'utf8')));
}
