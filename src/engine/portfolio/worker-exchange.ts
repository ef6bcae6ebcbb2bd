import { type MessagePort, receiveMessageOnPort } from 'node:worker_threads';
import type { Exchange, Incumbent } from '../prove/exchange.ts';
import type { Blackboard } from './blackboard.ts';

/** An exchange with proofs in other threads: bounds through shared memory, schedules as messages of a port. */
export class WorkerExchange implements Exchange {
  private readonly board: Blackboard;
  private readonly port: MessagePort;
  private readonly tell: (incumbent: Incumbent) => void;
  private heard = 0;

  constructor(board: Blackboard, port: MessagePort, tell: (incumbent: Incumbent) => void) {
    this.board = board;
    this.port = port;
    this.tell = tell;
  }

  hasNews(): boolean {
    return this.board.news !== this.heard;
  }

  newest(): Incumbent | undefined {
    if (!this.hasNews()) return undefined;
    // The count is read first: what arrives in between is heard twice rather than not at all.
    this.heard = this.board.news;
    let newest: Incumbent | undefined;
    for (let next = receiveMessageOnPort(this.port); next !== undefined; next = receiveMessageOnPort(this.port)) {
      newest = next.message as Incumbent;
    }
    return newest;
  }

  bound(tier: number): number {
    return this.board.bound(tier);
  }

  tellBound(tier: number, bound: number): void {
    this.board.raiseBound(tier, bound);
  }

  tellIncumbent(incumbent: Incumbent): void {
    this.tell(incumbent);
  }
}
