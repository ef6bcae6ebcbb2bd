import { airZones, coatings, equipment, places, recipes, technicians } from '../../../shop/setup/kinds.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { collectionRoutes } from './collection-routes.ts';

/** What a shop is set up with: rooms, people, things and recipes. */
export function setupRoutes(app: Api, deps: ApiDeps): void {
  collectionRoutes(app, deps, airZones, { one: 'AirZone', many: 'AirZones' });
  collectionRoutes(app, deps, places, { one: 'Place', many: 'Places' });
  collectionRoutes(app, deps, technicians, { one: 'Technician', many: 'Technicians' });
  collectionRoutes(app, deps, equipment, { one: 'PieceOfEquipment', many: 'Equipment' });
  collectionRoutes(app, deps, coatings, { one: 'Coating', many: 'Coatings' });
  collectionRoutes(app, deps, recipes, { one: 'Recipe', many: 'Recipes' });
}
