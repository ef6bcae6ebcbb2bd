import type { JobId, PhotoId, ShopId } from '../../trade/model/ids.ts';
import type { Photo } from '../../trade/model/photo.ts';
import type { ShopDeps } from '../deps.ts';
import { NotFound } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import { foundJob } from '../records/found.ts';
import { tell } from '../records/tell.ts';

interface OfPhoto {
  readonly shopId: ShopId;
  readonly jobId: JobId;
  readonly photoId: PhotoId;
}

/** Photographs of a job, in the order they were taken. @throws NotFound */
export async function listPhotos(
  deps: Pick<ShopDeps, 'store'>,
  input: { readonly shopId: ShopId; readonly jobId: JobId },
): Promise<readonly Photo[]> {
  await foundJob(deps.store, input.shopId, input.jobId);
  return deps.store.photos.list(input.shopId, input.jobId);
}

/** What is told of a photograph. @throws NotFound */
export async function findPhoto(deps: Pick<ShopDeps, 'store'>, input: OfPhoto): Promise<Photo> {
  const photo = await deps.store.photos.get(input.shopId, input.jobId, input.photoId);
  if (photo === null) throw new NotFound('photograph', input.photoId, 'photoId');
  return photo;
}

/** The picture itself. @throws NotFound */
export async function photoBytes(deps: Pick<ShopDeps, 'store'>, input: OfPhoto): Promise<Uint8Array> {
  const bytes = await deps.store.photos.bytes(input.shopId, input.photoId);
  if (bytes === null) throw new NotFound('photograph', input.photoId, 'photoId');
  return bytes;
}

/** Throws a photograph away, bytes and all. @throws NotFound */
export async function deletePhoto(deps: Pick<ShopDeps, 'store' | 'clock'>, input: OfPhoto): Promise<void> {
  const { shopId, jobId, photoId } = input;
  await inShopTerms(() =>
    deps.store.transaction(shopId, async (records) => {
      await records.photos.delete(shopId, jobId, photoId);
      await tell(records, shopId, deps.clock(), 'photo.deleted', jobId, { photoId });
    }),
  );
}
