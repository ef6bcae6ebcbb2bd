import { type MessagePort, parentPort, workerData } from 'node:worker_threads';
import type { Problem } from '../problem/problem.ts';
import type { Schedule, Solution } from '../problem/solution.ts';
import type { Incumbent } from '../prove/exchange.ts';
import { prove } from '../prove/prove.ts';
import { strategyOf } from '../prove/strategy.ts';
import { Blackboard } from './blackboard.ts';
import { WorkerExchange } from './worker-exchange.ts';

/** One proof of a portfolio, as it travels to its thread. */
export interface ProofTask {
  readonly problem: Problem;
  /** Which proof of the portfolio this is. */
  readonly index: number;
  readonly seed: number;
  readonly workLimit: number;
  readonly warmStart?: Schedule;
  /** Memory of a `Blackboard`. */
  readonly memory: Int32Array;
  /** Brings the incumbents of the other proofs. */
  readonly port: MessagePort;
}

/** What a proof tells. */
export type ProofNews =
  | { readonly kind: 'incumbent'; readonly incumbent: Incumbent }
  | { readonly kind: 'end'; readonly solution: Solution };

function runProof({ problem, index, seed, workLimit, warmStart, memory, port }: ProofTask): void {
  const board = new Blackboard(memory);
  const tell = (news: ProofNews) => parentPort!.postMessage(news);
  const exchange = new WorkerExchange(board, port, (incumbent) => tell({ kind: 'incumbent', incumbent }));
  const options = { seed: seed + index, workLimit, cancelled: () => board.stopped, ...(warmStart && { warmStart }) };
  const solution = prove(problem, options, strategyOf(index), exchange);
  port.close();
  tell({ kind: 'end', solution });
}

runProof(workerData as ProofTask);
