import type { ShopDeps } from '../../shop/deps.ts';
import { findShop } from '../../shop/setup/shop.ts';
import { ShopId } from '../../trade/model/ids.ts';
import type { Api } from '../api.ts';

/** Reads which shop an address is about: unknown shops are 404, known ones give their zone to the reply. */
export function shopScope(app: Api, deps: ShopDeps): void {
  app.addHook('preValidation', async (request) => {
    const { shopId } = request.params as { shopId?: string };
    const parsed = ShopId.safeParse(shopId);
    if (!parsed.success) return;
    const shop = await findShop(deps, { shopId: parsed.data });
    request.shopId = shop.value.id;
    request.zone = shop.value.timeZone;
  });
}
