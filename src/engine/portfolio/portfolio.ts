import { MessageChannel, type MessagePort, Worker } from 'node:worker_threads';
import { compareTiers } from '../improve/tiers.ts';
import type { Problem } from '../problem/problem.ts';
import type { Solution } from '../problem/solution.ts';
import type { Incumbent } from '../prove/exchange.ts';
import { Blackboard } from './blackboard.ts';
import type { ProofNews, ProofTask } from './portfolio-worker.ts';
import type { PortfolioOptions } from './prove-portfolio.ts';

/** How often the caller's wish to stop and the clock are looked at. */
const LOOK_MS = 20;
/** What a proof has to stop in once it is told to; then its thread is ended. */
const GRACE_MS = 2000;

/** Proofs of one problem on threads of their own: passes incumbents on, keeps the best, and ends all when one has decided. */
export class Portfolio {
  private readonly problem: Problem;
  private readonly options: PortfolioOptions;
  private readonly board: Blackboard;
  private readonly ports = new Map<Worker, MessagePort>();
  private best: Incumbent | undefined;
  private decided: Solution | undefined;
  private failure: unknown;
  private ended = 0;
  private work = 0;

  constructor(problem: Problem, options: PortfolioOptions) {
    this.problem = problem;
    this.options = options;
    this.board = Blackboard.forTiers(problem.tiers.length);
  }

  async run(): Promise<Solution> {
    const { clock, timeLimitMs, cancelled, threads } = this.options;
    const began = clock?.() ?? 0;
    let grace: NodeJS.Timeout | undefined;
    const stop = () => {
      this.board.stop();
      grace ??= setTimeout(() => this.terminate(), GRACE_MS);
    };
    const look = setInterval(() => {
      const late = clock !== undefined && timeLimitMs !== undefined && clock() - began >= timeLimitMs;
      if (late || cancelled?.() === true) stop();
    }, LOOK_MS);
    try {
      await Promise.all(Array.from({ length: threads }, (_, index) => this.prove(index, stop)));
    } finally {
      clearInterval(look);
      clearTimeout(grace);
      this.terminate();
    }
    return this.result();
  }

  /** Runs one proof to its end, however it ends: an answer, a crash, or a thread that was ended. */
  private prove(index: number, stop: () => void): Promise<void> {
    const { problem, options, board } = this;
    const channel = new MessageChannel();
    const task: ProofTask = {
      problem,
      index,
      seed: options.seed,
      workLimit: options.workLimit,
      ...(options.warmStart && { warmStart: options.warmStart }),
      memory: board.memory,
      port: channel.port2,
    };
    const worker = new Worker(options.workerUrl ?? new URL('./portfolio-worker.js', import.meta.url), {
      workerData: task,
      transferList: [channel.port2],
    });
    this.ports.set(worker, channel.port1);
    return new Promise((resolve) => {
      worker.on('message', (news: ProofNews) => {
        if (news.kind === 'incumbent') this.hear(worker, news.incumbent);
        else this.end(news.solution, stop);
      });
      worker.on('error', (error) => {
        this.failure ??= error;
      });
      worker.on('exit', () => {
        channel.port1.close();
        this.ports.delete(worker);
        resolve();
      });
    });
  }

  private hear(from: Worker, incumbent: Incumbent): void {
    if (this.best !== undefined && compareTiers(incumbent.objective, this.best.objective) >= 0) return;
    this.best = incumbent;
    for (const [worker, port] of this.ports) if (worker !== from) port.postMessage(incumbent);
    this.board.addNews();
    this.options.onProgress?.({ ...incumbent, bound: this.bound(), work: this.work });
  }

  private end(solution: Solution, stop: () => void): void {
    this.ended++;
    this.work += solution.work;
    if (solution.status !== 'optimal' && solution.status !== 'infeasible') return;
    this.decided ??= solution;
    stop();
  }

  /** No bound is told above a schedule that is there, which a proof that is not yet told of it may have. */
  private bound(): number[] {
    const { best } = this;
    const bounds = this.board.bounds();
    return best === undefined ? bounds : bounds.map((bound, tier) => Math.min(bound, best.objective[tier]!));
  }

  private terminate(): void {
    for (const worker of this.ports.keys()) void worker.terminate();
  }

  private result(): Solution {
    const { best, decided, work } = this;
    if (decided !== undefined) return { ...decided, work, interrupted: true };
    if (best !== undefined) {
      return { status: 'feasible', ...best, bound: this.bound(), work, interrupted: true };
    }
    if (this.ended === 0 && this.failure !== undefined) {
      throw new Error('every proof of the portfolio failed', { cause: this.failure });
    }
    return { status: 'unknown', schedule: null, objective: null, bound: this.bound(), work, interrupted: true };
  }
}
