import { connect, createServer, type Socket } from 'node:net';
import { setTimeout as pause } from 'node:timers/promises';

/** What stands between a server and its database. */
export interface Proxy {
  readonly port: number;
  /** `through`: as if it were not there; `lost`: connections break and none is made; `silent`: nothing arrives; else milliseconds of delay each way. */
  behave(how: 'through' | 'lost' | 'silent' | number): void;
  close(): Promise<void>;
}

/** A TCP proxy in front of a port of this machine, whose line can be cut, silenced or slowed. */
export async function openProxy(target: number): Promise<Proxy> {
  let how: 'through' | 'lost' | 'silent' | number = 'through';
  const open = new Set<Socket>();
  const pass = async (from: Socket, to: Socket) => {
    try {
      for await (const bytes of from) {
        while (how === 'silent') await pause(20);
        if (typeof how === 'number') await pause(how);
        if (!to.write(bytes as Buffer)) await new Promise((resolve) => to.once('drain', resolve));
      }
    } catch {
      // Cut.
    }
    to.end();
  };
  const server = createServer((client) => {
    if (how === 'lost') return client.destroy();
    const upstream = connect(target, '127.0.0.1');
    for (const socket of [client, upstream]) {
      open.add(socket);
      socket.once('close', () => open.delete(socket));
      socket.on('error', () => socket.destroy());
    }
    void pass(client, upstream);
    void pass(upstream, client);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    port: (server.address() as { port: number }).port,
    behave(next) {
      how = next;
      if (next === 'lost') for (const socket of open) socket.destroy();
    },
    async close() {
      how = 'through';
      for (const socket of open) socket.destroy();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}
