import { sep } from 'node:path';
import fastifyStatic from '@fastify/static';
import type { ShopDeps } from '../../shop/deps.ts';
import type { Api } from '../api.ts';
import { askedFirst } from './asked-first.ts';

/** Where the build puts files whose names change with what is in them. */
const HASHED = `${sep}assets${sep}`;
const FOR_EVER = 'public, max-age=31536000, immutable';

/** Serves the built screens, compressed where the build left a compressed form; what can never change is read once. */
export async function screens(app: Api, webRoot: string, deps: Pick<ShopDeps, 'store' | 'clock'>): Promise<void> {
  await app.register(async (pages) => {
    askedFirst(pages, deps);
    await pages.register(fastifyStatic, {
      root: webRoot,
      preCompressed: true,
      // Said below, and by `caching` for what may change.
      cacheControl: false,
      setHeaders: (reply, path) => {
        if (path.includes(HASHED)) reply.header('cache-control', FOR_EVER);
      },
    });
  });
}
