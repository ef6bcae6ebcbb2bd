import { createHash } from 'node:crypto';
import { fileTypeFromBuffer } from 'file-type';
import { AlreadyExists } from '../../store/store.ts';
import { type JobId, type OperationKey, PhotoId, type ShopId } from '../../trade/model/ids.ts';
import { type Photo, PhotoType } from '../../trade/model/photo.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { PanelName } from '../../trade/model/vehicle.ts';
import type { ShopDeps } from '../deps.ts';
import { stepOf } from '../floor/recipe-step.ts';
import { Invalid, WrongState } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import { foundJob } from '../records/found.ts';
import { tell } from '../records/tell.ts';

/** A telephone's picture in full; what is larger says nothing more of a panel. */
export const LARGEST_PHOTO_BYTES = 8 * 1024 * 1024;

/** Every format's mark stands within so many bytes. */
const MARK_BYTES = 4100;

export interface KeepPhoto {
  readonly shopId: ShopId;
  readonly jobId: JobId;
  /** Made by the device; sent twice it is one photograph. */
  readonly clientId: string;
  readonly bytes: Uint8Array;
  readonly operation: OperationKey | null;
  readonly panel: PanelName | null;
  readonly note: string;
  /** Null: now. */
  readonly takenAt: Instant | null;
}

/**
 * Keeps a photograph of a car. What it is, is read from its bytes and not from what is said of them. The same `clientId` with
 * the same bytes is the same photograph, and so are the same bytes of the same operation, panel and job.
 * @throws NotFound (job), Invalid (bytes, operation), WrongState (the clientId belongs to another photograph)
 */
export async function keepPhoto(
  deps: Pick<ShopDeps, 'store' | 'clock' | 'newId'>,
  input: KeepPhoto,
): Promise<{ photo: Photo; fresh: boolean }> {
  const { shopId, jobId, clientId, bytes, operation, panel, note } = input;
  const now = deps.clock();
  const { value: job } = await foundJob(deps.store, shopId, jobId);
  if (bytes.length === 0) throw new Invalid('The photograph is empty.', '');
  if (bytes.length > LARGEST_PHOTO_BYTES) throw new Invalid('The photograph is larger than 8 MiB.', '');
  const found = await fileTypeFromBuffer(bytes.subarray(0, MARK_BYTES));
  const type = PhotoType.safeParse(found?.mime);
  if (!type.success) throw new Invalid('It is not a JPEG, PNG or WebP picture.', '');
  if (operation !== null) {
    const recipe = await deps.store.recipes.get(shopId, job.recipeId);
    const planned = await deps.store.plans.job(shopId, jobId);
    const known =
      (recipe !== null && stepOf(recipe.value, operation) !== null) ||
      planned?.operations.some((each) => each.operation === operation);
    if (!known) throw new Invalid(`The job has no operation "${operation}".`, 'operation');
  }
  const photo: Photo = {
    id: PhotoId.parse(deps.newId()),
    jobId,
    clientId,
    type: type.data,
    bytes: bytes.length,
    sha256: createHash('sha256').update(bytes).digest('hex'),
    operation,
    panel,
    note,
    takenAt: Math.min(input.takenAt ?? now, now) as Instant,
    recordedAt: now,
  };
  const before = await sameAs(deps, shopId, photo);
  if (before !== null) return { photo: before, fresh: false };
  try {
    await inShopTerms(() =>
      deps.store.transaction(shopId, async (records) => {
        await records.photos.add(shopId, photo, bytes);
        await tell(records, shopId, now, 'photo.kept', jobId, { photoId: photo.id, operation, panel });
      }),
    );
    return { photo, fresh: true };
  } catch (refusal) {
    // The same photograph came over another line in this moment.
    const first =
      refusal instanceof AlreadyExists || refusal instanceof Invalid ? await sameAs(deps, shopId, photo) : null;
    if (first === null) throw refusal;
    return { photo: first, fresh: false };
  }
}

/** The photograph that this one repeats, if it does. @throws WrongState when the clientId belongs to another */
async function sameAs(deps: Pick<ShopDeps, 'store'>, shopId: ShopId, photo: Photo): Promise<Photo | null> {
  const byClient = await deps.store.photos.byClientId(shopId, photo.clientId);
  if (byClient !== null) {
    if (byClient.jobId === photo.jobId && byClient.sha256 === photo.sha256) return byClient;
    throw new WrongState('Another photograph was sent under this clientId.', 'clientId');
  }
  const ofJob = await deps.store.photos.list(shopId, photo.jobId);
  return (
    ofJob.find(
      (each) => each.sha256 === photo.sha256 && each.operation === photo.operation && each.panel === photo.panel,
    ) ?? null
  );
}
