import { effectsOfShop } from '../../../shop/setup/effects.ts';
import { airZones, coatings, equipment, places, recipes, technicians } from '../../../shop/setup/kinds.ts';
import type { SetupKind } from '../../../shop/setup/setup-kind.ts';
import { Shop } from '../../../trade/model/shop.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { OfShop } from '../../wire/addresses.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { problemReplies } from '../../wire/problem-replies.ts';
import { sameId } from '../../wire/same-id.ts';
import { collectionEffectsRoutes } from './collection-effects-routes.ts';
import { collectionRoutes } from './collection-routes.ts';
import { EffectsReply } from './effects-reply.ts';

const ShopBody = onTheWire(Shop);

/** What a shop is set up with: rooms, people, things and recipes. */
export function setupRoutes(app: Api, deps: ApiDeps): void {
  const kind = <T extends { readonly id: string }>(of: SetupKind<T>, one: string, many: string) => {
    collectionRoutes(app, deps, of, { one, many });
    collectionEffectsRoutes(app, deps, of, { one });
  };
  kind(airZones, 'AirZone', 'AirZones');
  kind(places, 'Place', 'Places');
  kind(technicians, 'Technician', 'Technicians');
  kind(equipment, 'PieceOfEquipment', 'Equipment');
  kind(coatings, 'Coating', 'Coatings');
  kind(recipes, 'Recipe', 'Recipes');

  app.post(
    '/effects',
    {
      config: { needs: 'setUp', computesOnly: true },
      schema: {
        operationId: 'previewShop',
        summary: "What a change of the shop's hours or defaults would break in the book; nothing is stored",
        tags: ['shop'],
        params: OfShop,
        body: ShopBody,
        response: {
          200: EffectsReply,
          ...problemReplies('not-found', 'refused', 'busy', 'malformed-json', 'too-large', 'unsupported-media-type'),
        },
      },
    },
    async (request) => {
      sameId(request.body.id, request.params.shopId);
      return effectsOfShop(deps.shop, { shop: request.body });
    },
  );
}
