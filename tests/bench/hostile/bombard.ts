import type { Store } from '../../../src/store/store.ts';
import { seededRandom } from '../../engine/random/seeded-random.ts';
import { aRound } from './a-round.ts';
import { type OpenApiDocument, type Operation, operationsOf } from './document.ts';
import { faultsOf } from './judge-reply.ts';
import { type Asked, makeRequest } from './make-request.ts';
import { sender } from './send.ts';
import { ValidValues } from './valid-values.ts';

export interface Fault {
  readonly operation: string;
  readonly what: string;
  readonly request: string;
  readonly reply: string;
}

export interface Bombarded {
  readonly requests: number;
  readonly byStatus: ReadonlyMap<number, number>;
  /** By whether the request was meant to be right: how many succeeded, how many were refused. */
  readonly succeeded: { readonly valid: number; readonly hostile: number };
  readonly sent: { readonly valid: number; readonly hostile: number };
  readonly operations: number;
  readonly faults: readonly Fault[];
}

export interface Bombardment {
  readonly store: Store;
  readonly port: number;
  readonly document: OpenApiDocument;
  readonly now: number;
  readonly seed: number;
  readonly requests: number;
  /** Asked before each request; the rest is then not sent. */
  readonly enough?: () => boolean;
  readonly progress?: (done: number) => void;
  /** Told of each fault at once. */
  readonly found?: (fault: Fault) => void;
}

/** Requests to one shop before a new one is made, since many of them change or empty it. */
const ROUND = 250;
const HOSTILE = 0.35;
/** These plan or hash, and take a hundred times as long as the others: they come less often. */
const SLOW =
  /quote|Job$|bookJob|holdSlot|walkIn|[wW]hatIf|replan|preview|import|signIn|claim|[pP]assword|remed|simulate/;
const SLOW_SHARE = 0.12;
/** They would take the requests' own right away, or wait for what never comes. */
const LEFT_OUT = new Set(['signOut']);

/** Sends made requests one after the other, and judges every reply. The same seed sends the same ones. */
export async function bombard(options: Bombardment): Promise<Bombarded> {
  const { store, document, now, seed, requests } = options;
  const random = seededRandom(seed);
  const operations = operationsOf(document).filter(({ id }) => !LEFT_OUT.has(id));
  const { send, close } = sender(options.port);
  const byStatus = new Map<number, number>();
  const succeeded = { valid: 0, hostile: 0 };
  const sent = { valid: 0, hostile: 0 };
  const faults: Fault[] = [];
  let values!: ValidValues;
  let n = 0;
  try {
    for (; n < requests && !options.enough?.(); n += 1) {
      if (n % ROUND === 0) {
        const known = await aRound(store, n / ROUND);
        values = new ValidValues(random, document.components.schemas, known, now);
        options.progress?.(n);
      }
      const asked = makeRequest(drawn(operations, random), values, random, random.chance(HOSTILE));
      const reply = await send(asked);
      byStatus.set(reply.status, (byStatus.get(reply.status) ?? 0) + 1);
      sent[asked.meant] += 1;
      if (reply.status >= 200 && reply.status < 400) succeeded[asked.meant] += 1;
      const wrong = 'why' in reply ? [`no reply: ${reply.why}`] : faultsOf(asked, reply);
      for (const what of wrong) {
        const fault = described(asked, what, 'body' in reply ? reply.body : '');
        faults.push(fault);
        options.found?.(fault);
      }
    }
  } finally {
    close();
  }
  return { requests: n, byStatus, succeeded, sent, operations: operations.length, faults };
}

function drawn(operations: readonly Operation[], random: ReturnType<typeof seededRandom>): Operation {
  for (;;) {
    const operation = random.pick(operations);
    if (!SLOW.test(operation.id) || operation.method === 'GET' || random.chance(SLOW_SHARE)) return operation;
  }
}

const SHOWN = 250;

function described({ operation, method, url, headers, body }: Asked, what: string, reply: string): Fault {
  const request = `${method} ${url.slice(0, SHOWN)} ${JSON.stringify(headers).slice(0, SHOWN)} ${JSON.stringify(String(body ?? '')).slice(0, SHOWN)}`;
  return { operation: operation.id, what, request, reply: reply.slice(0, SHOWN) };
}
