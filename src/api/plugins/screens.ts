import { sep } from 'node:path';
import fastifyStatic from '@fastify/static';
import type { Api } from '../api.ts';

/** Where the build puts files whose names change with what is in them. */
const HASHED = `${sep}assets${sep}`;
const FOR_EVER = 'public, max-age=31536000, immutable';

/** Serves the built screens, compressed where the build left a compressed form; what can never change is read once. */
export async function screens(app: Api, webRoot: string): Promise<void> {
  await app.register(fastifyStatic, {
    root: webRoot,
    preCompressed: true,
    setHeaders: (reply, path) => {
      if (path.includes(HASHED)) reply.header('cache-control', FOR_EVER);
    },
  });
}
