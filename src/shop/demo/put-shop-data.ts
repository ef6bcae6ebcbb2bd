import type { Records } from '../../store/store.ts';
import type { ShopData } from '../../trade/formulate/book.ts';

/** Writes a new shop with all its data, what is pointed to before what points to it. */
export async function putShopData(records: Records, data: ShopData): Promise<void> {
  const { shop } = data;
  await records.shops.put(shop, 'new');
  for (const airZone of data.airZones) await records.airZones.put(shop.id, airZone, 'new');
  // Tandem places name one another: all are there before any names its neighbour.
  for (const place of data.places) await records.places.put(shop.id, { ...place, blockedBy: [] }, 'new');
  for (const place of data.places) {
    if (place.blockedBy.length > 0) await records.places.put(shop.id, place, 'any');
  }
  for (const coating of data.coatings) await records.coatings.put(shop.id, coating, 'new');
  for (const technician of data.technicians) await records.technicians.put(shop.id, technician, 'new');
  for (const equipment of data.equipment) await records.equipment.put(shop.id, equipment, 'new');
  for (const recipe of data.recipes) await records.recipes.put(shop.id, recipe, 'new');
}
