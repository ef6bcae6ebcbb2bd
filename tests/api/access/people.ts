import supertest from 'supertest';
import { addAccount } from '../../../src/shop/access/accounts.ts';
import type { Role } from '../../../src/shop/access/permission.ts';
import type { ShopId } from '../../../src/trade/model/ids.ts';
import { Shop } from '../../../src/trade/model/shop.ts';
import { type Opened, shop } from '../a-shop.ts';

export const PASSWORD = 'seven grey otters in a row';

/** A second shop on the same server, with nothing of the first. */
export const otherShop = Shop.parse({ ...shop, id: 'elsewhere', name: 'Invented Shop Elsewhere' });

/** Somebody of a shop with a password. */
export async function admit(opened: Opened, role: Role, shopId: ShopId = shop.id, name: string = `${role}-${shopId}`) {
  const account = { signInName: name, name, role, technicianId: null, password: PASSWORD, pin: null };
  return addAccount(opened.deps, { ...account, shopId });
}

/** The cookie of somebody who signed in by password. */
export async function cookieOf(opened: Opened, signInName: string, password = PASSWORD): Promise<string> {
  const reply = await supertest(opened.app.server).post('/v1/sign-ins/password').send({ signInName, password });
  if (reply.status !== 204) throw new Error(`not signed in: ${reply.status} ${reply.text}`);
  return cookieIn(reply);
}

export function cookieIn(reply: supertest.Response): string {
  const [cookie = ''] = reply.get('set-cookie') ?? [];
  return cookie.split(';')[0]!;
}
