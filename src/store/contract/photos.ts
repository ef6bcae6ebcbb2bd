import type { JobId, PhotoId, ShopId } from '../../trade/model/ids.ts';
import type { Photo } from '../../trade/model/photo.ts';

/** Photographs of cars. What is told of one is a row, its bytes another, so that lists never read bytes. */
export interface Photos {
  /** By the hour they were taken, then id. */
  list(shopId: ShopId, jobId: JobId): Promise<Photo[]>;
  get(shopId: ShopId, jobId: JobId, id: PhotoId): Promise<Photo | null>;
  byClientId(shopId: ShopId, clientId: string): Promise<Photo | null>;
  bytes(shopId: ShopId, id: PhotoId): Promise<Uint8Array | null>;
  /** @throws AlreadyExists (id or clientId), UnknownReference (job), InvalidDocument */
  add(shopId: ShopId, photo: Photo, bytes: Uint8Array): Promise<void>;
  /** @throws NotFound */
  delete(shopId: ShopId, jobId: JobId, id: PhotoId): Promise<void>;
}
