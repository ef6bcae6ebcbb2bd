import { ApiProblem } from './problem.ts';

/** @throws invalid-request when the id in a body is not the one in its address */
export function sameId(inBody: string, inAddress: string): void {
  if (inBody === inAddress) return;
  throw new ApiProblem('invalid-request', 'The id in the body is not the one in the address.', [
    { in: 'body', field: '/id', message: `must be "${inAddress}", as in the address` },
  ]);
}
