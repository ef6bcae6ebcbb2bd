import { Agent, type IncomingMessage, request } from 'node:http';
import { setTimeout as pause } from 'node:timers/promises';
import type { Random } from '../../../src/engine/improve/random.ts';

export interface Sent {
  /** What it is counted as. */
  readonly kind: string;
  readonly method: 'GET' | 'POST';
  readonly path: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body?: string;
}

export interface Answered {
  readonly kinds: ReadonlyMap<string, AnsweredKind>;
  /** From the first request due to the last reply read, seconds. */
  readonly seconds: number;
}

interface AnsweredKind {
  /** From the instant a request was due, not from when it was sent: whoever waits for the one before waits too. */
  readonly ms: number[];
  /** When each was due, seconds from the beginning. */
  readonly dueAt: number[];
  /** The statuses of the replies that were no success; 0 for no reply at all. */
  readonly failed: number[];
}

/**
 * Requests that come as customers do: independently of one another at a mean rate (a Poisson process), whether the earlier ones are answered or not.
 * @param next - the k-th request
 */
export async function openArrivals(
  address: string,
  { perSecond, seconds, connections }: { perSecond: number; seconds: number; connections: number },
  random: Random,
  next: (k: number) => Sent,
): Promise<Answered> {
  const agent = new Agent({ keepAlive: true, maxSockets: connections });
  const kinds = new Map<string, AnsweredKind>();
  const began = performance.now();
  const end = began + seconds * 1000;
  const open = new Set<Promise<void>>();
  const gapMs = () => (-Math.log(1 - random.unit()) * 1000) / perSecond;
  let k = 0;
  for (let due = began + gapMs(); due < end; ) {
    for (; due <= performance.now() && due < end; due += gapMs()) {
      const dueAt = due;
      const sent = next(k++);
      const of = kinds.get(sent.kind) ?? { ms: [], dueAt: [], failed: [] };
      kinds.set(sent.kind, of);
      const answer = sendAndRead(address, agent, sent).then((status) => {
        of.ms.push(performance.now() - dueAt);
        of.dueAt.push((dueAt - began) / 1000);
        if (status < 200 || status > 299) of.failed.push(status);
        open.delete(answer);
      });
      open.add(answer);
    }
    await pause(1);
  }
  await Promise.all(open);
  agent.destroy();
  return { kinds, seconds: (performance.now() - began) / 1000 };
}

/** One request and the whole of its reply, unparsed. @returns its status, or 0 when there was none */
function sendAndRead(address: string, agent: Agent, { method, path, headers, body }: Sent): Promise<number> {
  return new Promise((resolve) => {
    const sending = request(`${address}${path}`, { method, headers, agent }, (reply: IncomingMessage) => {
      reply.on('data', () => undefined);
      reply.on('end', () => resolve(reply.statusCode ?? 0));
      reply.on('error', () => resolve(0));
    });
    sending.on('error', () => resolve(0));
    sending.end(body);
  });
}
