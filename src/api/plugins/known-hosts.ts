import { isIP } from 'node:net';
import type { Api } from '../api.ts';
import { ApiProblem } from '../wire/problem.ts';

/**
 * Refuses requests under a name that is not this server's. Without sign-in the address is the only fence: a page on the
 * web could point a name of its own at this machine and read the answers through its visitor's browser. It cannot do
 * so with an address in figures, nor with `localhost`, so these are always let in. No `hosts`: any name is.
 */
export function knownHosts(app: Api, hosts: readonly string[] | undefined): void {
  if (hosts === undefined) return;
  const known = new Set(['localhost', ...hosts.map((host) => host.toLowerCase())]);
  app.addHook('onRequest', async (request) => {
    const name = request.hostname.toLowerCase().replace(/^\[|\]$/g, '');
    if (isIP(name) === 0 && !known.has(name)) {
      throw new ApiProblem('misdirected', 'This server does not answer under that name.', [
        { in: 'header', field: '/host', message: 'is not a name of this server' },
      ]);
    }
  });
}
