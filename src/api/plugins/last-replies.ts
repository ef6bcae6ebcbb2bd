import type { FastifyInstance } from 'fastify';

/** Once the server is closing, each reply says that its line ends with it, so that the closing waits for nobody who says nothing more. */
export function lastReplies(app: FastifyInstance): void {
  let closing = false;
  app.addHook('preClose', async () => {
    closing = true;
  });
  app.addHook('onSend', async (_request, reply) => {
    if (closing) reply.header('connection', 'close');
  });
}
