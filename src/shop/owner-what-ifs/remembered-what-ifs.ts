import type { ShopId } from '../../trade/model/ids.ts';
import type { WhatIfProgress, WhatIfs, WhatIfTerms } from './what-if.ts';
import { type WhatIfDeps, whatIfs } from './what-ifs.ts';

/** Months take a while to plan; whoever asks the same again soon after, as a CSV for instance, gets the same answer. */
const REMEMBERED_MS = 15 * 60_000;
const MOST_REMEMBERED = 20;

export type AskWhatIfs = (
  input: { readonly shopId: ShopId } & WhatIfTerms,
  onProgress?: (progress: WhatIfProgress) => void,
  signal?: AbortSignal,
) => Promise<WhatIfs>;

/** As `whatIfs`, with the last answers remembered for a quarter of an hour. */
export function rememberedWhatIfs(deps: WhatIfDeps): AskWhatIfs {
  const answers = new Map<string, { readonly at: number; readonly answer: WhatIfs }>();
  return async (input, onProgress, signal) => {
    const { shopId, months, seed, demandPercent } = input;
    const key = `${shopId} ${months} ${seed} ${demandPercent}`;
    const known = answers.get(key);
    const now = deps.clock();
    if (known !== undefined && now - known.at < REMEMBERED_MS) return known.answer;
    const answer = await whatIfs(deps, input, onProgress, signal);
    answers.delete(key);
    answers.set(key, { at: now, answer });
    for (const oldest of answers.keys()) if (answers.size > MOST_REMEMBERED) answers.delete(oldest);
    return answer;
  };
}
