import { z } from 'zod';
import type { Api } from '../../api.ts';
import { ApiProblem, problemKinds } from '../../wire/problem.ts';
import { problemReplies } from '../../wire/problem-replies.ts';

const ProblemKindReply = z.object({
  type: z.string(),
  title: z.string(),
  status: z.int(),
  advice: z.string(),
});

const replies = Object.entries(problemKinds).map(([kind, about]) => ({ type: `/problems/${kind}`, ...about }));

/** The `type` of a problem is an address that says what it means. */
export function problemKindRoutes(app: Api): void {
  app.get(
    '/problems',
    {
      config: { needs: 'open' },
      schema: {
        operationId: 'listProblemKinds',
        summary: 'Every kind of problem this API answers with',
        tags: ['problems'],
        response: { 200: z.array(ProblemKindReply), ...problemReplies() },
      },
    },
    async () => replies,
  );

  app.get(
    '/problems/:kind',
    {
      config: { needs: 'open' },
      schema: {
        operationId: 'getProblemKind',
        summary: 'What a kind of problem means and what to do',
        tags: ['problems'],
        params: z.object({ kind: z.string() }),
        response: { 200: ProblemKindReply, ...problemReplies('not-found') },
      },
    },
    async (request) => {
      const found = replies.find((each) => each.type === `/problems/${request.params.kind}`);
      if (!found) throw new ApiProblem('not-found', `There is no kind of problem "${request.params.kind}".`);
      return found;
    },
  );
}
