import { dataSheetObjections } from '../../trade/cure/data-sheet-objections.ts';
import { Coating } from '../../trade/model/coating.ts';
import { Equipment } from '../../trade/model/equipment.ts';
import { AirZoneId, CoatingId, EquipmentId, PlaceId, RecipeId, TechnicianId } from '../../trade/model/ids.ts';
import { Technician } from '../../trade/model/people.ts';
import { Recipe } from '../../trade/model/recipe.ts';
import { AirZone, Place } from '../../trade/model/shop.ts';
import { recipeObjections } from '../../trade/recipe/recipe-objections.ts';
import { airRuleObjections } from './air-rule-objections.ts';
import { hoursObjections } from './hours-objections.ts';
import { placeObjections } from './place-objections.ts';
import type { SetupKind } from './setup-kind.ts';

export const airZones: SetupKind<AirZone> = {
  what: 'air zone',
  path: 'air-zones',
  schema: AirZone,
  idSchema: AirZoneId,
  collection: (records) => records.airZones,
  inBook: 'airZones',
  objections: async (zone) => airRuleObjections(zone),
};

export const places: SetupKind<Place> = {
  what: 'place',
  path: 'places',
  schema: Place,
  idSchema: PlaceId,
  collection: (records) => records.places,
  inBook: 'places',
  objections: async (place) => placeObjections(place),
};

export const technicians: SetupKind<Technician> = {
  what: 'technician',
  path: 'technicians',
  schema: Technician,
  idSchema: TechnicianId,
  collection: (records) => records.technicians,
  inBook: 'technicians',
  objections: async (person) => [
    ...hoursObjections(person.shifts, 'shifts', person.exceptions, 'exceptions'),
    ...person.skills.flatMap(({ skill }, at) =>
      person.skills.findIndex((other) => other.skill === skill) < at
        ? [{ rule: 'skillOnce', field: `skills.${at}.skill`, text: `${skill} is given twice.` }]
        : [],
    ),
  ],
};

export const equipment: SetupKind<Equipment> = {
  what: 'piece of equipment',
  path: 'equipment',
  schema: Equipment,
  idSchema: EquipmentId,
  collection: (records) => records.equipment,
  inBook: 'equipment',
  objections: async () => [],
};

export const coatings: SetupKind<Coating> = {
  what: 'coating',
  path: 'coatings',
  schema: Coating,
  idSchema: CoatingId,
  collection: (records) => records.coatings,
  inBook: 'coatings',
  objections: async (coating) =>
    dataSheetObjections(coating.dataSheet).map((text) => ({ rule: 'dataSheet', field: fieldNamedBy(text), text })),
};

export const recipes: SetupKind<Recipe> = {
  what: 'recipe',
  path: 'recipes',
  schema: Recipe,
  idSchema: RecipeId,
  collection: (records) => records.recipes,
  inBook: 'recipes',
  objections: async (recipe) => recipeObjections(recipe).map((objection) => ({ rule: 'recipe', ...objection })),
};

/** Each objection to a data sheet begins with the field it is about: `rows[0].recoatMinMinutes is ...`. */
function fieldNamedBy(text: string): string {
  const [named = ''] = text.match(/^[\w.[\]]+/) ?? [];
  return `dataSheet.${named.replaceAll(/\[(\d+)\]/g, '.$1')}`;
}
