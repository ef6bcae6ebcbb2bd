import { createHash } from 'node:crypto';
import { AlreadyExists, type Records } from '../../store/store.ts';
import type { DeskException } from '../../trade/model/desk-exception.ts';
import { DeskExceptionId, type JobId, type ShopId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import { tell } from './tell.ts';

export interface ToRaise {
  readonly kind: DeskException['kind'];
  readonly jobId: JobId | null;
  /** What makes it the same exception as another: raised again with the same cause, it is not raised again. */
  readonly cause: string;
  readonly text: string;
}

/** Raises an exception for the desk, once per cause. Returns whether it is new. */
export async function raiseException(
  records: Records,
  shopId: ShopId,
  at: Instant,
  exception: ToRaise,
): Promise<boolean> {
  return (await raiseExceptions(records, shopId, at, [exception])).has(exception);
}

/** Raises exceptions for the desk, once per cause. Returns those that are new. */
export async function raiseExceptions<T extends ToRaise>(
  records: Records,
  shopId: ShopId,
  at: Instant,
  exceptions: readonly T[],
): Promise<ReadonlySet<T>> {
  const byId = new Map(exceptions.map((exception) => [exceptionId(exception), exception]));
  const known = await records.deskExceptions.known(shopId, [...byId.keys()]);
  const news = new Set<T>();
  for (const [id, exception] of byId) {
    if (!known.has(id) && (await raise(records, shopId, at, id, exception))) news.add(exception);
  }
  return news;
}

async function raise(
  records: Records,
  shopId: ShopId,
  at: Instant,
  id: DeskExceptionId,
  exception: ToRaise,
): Promise<boolean> {
  const raised: DeskException = {
    id,
    kind: exception.kind,
    jobId: exception.jobId,
    text: exception.text.slice(0, 1000),
    raisedAt: at,
    acknowledgedAt: null,
    acknowledgedBy: null,
  };
  try {
    await records.deskExceptions.put(shopId, raised, 'new');
  } catch (refusal) {
    if (refusal instanceof AlreadyExists) return false;
    throw refusal;
  }
  await tell(records, shopId, at, 'exception.raised', id, { ...raised });
  return true;
}

function exceptionId(exception: ToRaise): DeskExceptionId {
  const cause = `${exception.kind} ${exception.jobId ?? ''} ${exception.cause}`;
  return DeskExceptionId.parse(createHash('sha256').update(cause).digest('hex').slice(0, 32));
}
