import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { Permission } from '../../shop/access/permission.ts';
import { permissionsIn } from '../../shop/access/principal.ts';
import type { ShopDeps } from '../../shop/deps.ts';
import { listShops } from '../../shop/setup/shop.ts';
import type { Shop } from '../../trade/model/shop.ts';
import { mondayIn, todayIn } from '../wire/local-day.ts';

interface FirstView {
  /** What the screen takes of whoever opens it. */
  readonly needs: Permission;
  /** What it cannot begin without, beside the shops; no more, since scripts come by the same six connections. */
  readonly readings: (shop: string, days: { readonly today: string; readonly monday: string }) => readonly string[];
}

const screens: Readonly<Record<string, FirstView | undefined>> = {
  '/desk.html': {
    needs: 'book',
    readings: (shop, { today }) => [`${shop}/timeline?day=${today}`, `${shop}/jobs?state=held,booked,inShop&limit=200`],
  },
  '/floor.html': { needs: 'work', readings: (shop) => ['/v1/me', `${shop}/technicians?limit=100`] },
  '/owner.html': { needs: 'figures', readings: (shop, { monday }) => [`${shop}/utilisation?monday=${monday}`] },
};

/**
 * Says in a screen's head what the screen will ask first (RFC 8288, `rel=preload`), so that its figures come while its scripts do and
 * not after them. Said only to whoever is signed in and may read them: the addresses name the shop and its day.
 */
export function askedFirst(app: FastifyInstance, deps: Pick<ShopDeps, 'store' | 'clock'>): void {
  app.addHook('onRequest', async (request, reply) => {
    const [path = ''] = request.url.split('?', 1);
    const view = screens[path];
    if (view === undefined) return;
    const shop = await shopOf(request, deps).catch(() => undefined);
    if (shop === undefined || !permissionsIn(request.principal, shop.id).has(view.needs)) return;
    const now = deps.clock();
    const days = { today: todayIn(shop.timeZone, now), monday: mondayIn(shop.timeZone, now) };
    const asked = ['/v1/shops', ...view.readings(`/v1/shops/${shop.id}`, days)];
    // As `fetch` asks: with the cookie to this origin, in CORS mode; a preload of another kind would not count as the same.
    const links = asked.map((each) => `<${each}>; rel=preload; as=fetch; crossorigin=anonymous`);
    reply.headers({ link: links.join(', '), vary: 'Cookie' });
  });
}

/** The shop that the screen will be about: the one in `?shop=`, else the first that whoever asks serves. */
async function shopOf(request: FastifyRequest, deps: Pick<ShopDeps, 'store'>): Promise<Shop | undefined> {
  if (!request.principal.administrator && request.principal.shops.size === 0) return undefined;
  const { shop: wanted } = request.query as { shop?: unknown };
  const shops = (await listShops(deps)).map(({ value }) => value);
  return shops
    .filter(({ id }) => permissionsIn(request.principal, id).size > 0)
    .find(({ id }) => wanted === undefined || id === wanted);
}
