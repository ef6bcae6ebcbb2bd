import encodeQR from 'qr';
import { z } from 'zod';
import type { CustomerDeps } from '../../../shop/customer/deps.ts';
import { findJob } from '../../../shop/jobs/find-job.ts';
import type { Api } from '../../api.ts';
import { OfJob } from '../../wire/addresses.ts';
import { problemReplies } from '../../wire/problem-replies.ts';

/** The QR code (ISO/IEC 18004) on a printed job card: who reads it stands before the job on a screen of the shop. */
export function jobCardRoutes(app: Api, customers: CustomerDeps): void {
  app.get(
    '/jobs/:jobId/qr.svg',
    {
      config: { needs: 'see' },
      schema: {
        operationId: 'getJobQrCode',
        summary: 'QR code of the address of a job on the desk or the floor, as SVG',
        tags: ['jobs'],
        params: OfJob,
        querystring: z.object({ screen: z.enum(['desk', 'floor']).default('desk') }),
        response: {
          200: { description: 'The code, as SVG.', content: { 'image/svg+xml': { schema: z.string() } } },
          ...problemReplies('not-found'),
        },
      },
    },
    async (request, reply) => {
      const { job } = await findJob(customers, request.params);
      const address = `${customers.publicUrl()}/${request.query.screen}.html?job=${encodeURIComponent(job.id)}`;
      // Medium: legible with a seventh of it smudged, which a card in a wash bay will be.
      const code = encodeQR(address, 'svg', { ecc: 'medium', border: 4 });
      // On a white ground of its own, or nothing reads it on a dark screen.
      const svg = code.replace('<path', '<rect width="100%" height="100%" fill="#fff"/><path');
      return reply.type('image/svg+xml; charset=utf-8').send(svg);
    },
  );
}
