import { z } from 'zod';
import { JobId, OperationKey, PhotoId } from './ids.ts';
import { Instant } from './time.ts';
import { PanelName } from './vehicle.ts';

export const PhotoType = z.enum(['image/jpeg', 'image/png', 'image/webp']);
export type PhotoType = z.infer<typeof PhotoType>;

/** A photograph of a car, apart from its bytes. */
export const Photo = z.object({
  id: PhotoId,
  jobId: JobId,
  /** Made by the device; sent twice it is one photograph. */
  clientId: z.string().min(8).max(64),
  type: PhotoType,
  bytes: z.int().positive(),
  /** SHA-256 of the bytes, in hexadecimal. */
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  operation: OperationKey.nullable(),
  panel: PanelName.nullable(),
  note: z.string().max(500),
  takenAt: Instant,
  recordedAt: Instant,
});
export type Photo = z.infer<typeof Photo>;
