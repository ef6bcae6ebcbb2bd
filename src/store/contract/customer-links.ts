import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';

/** The link to a customer's page. Its token is made from the seed with a key that the store does not know. */
export interface CustomerLink {
  readonly jobId: JobId;
  /** Counts from 1; a new one makes the one before worthless. */
  readonly generation: number;
  readonly seed: string;
  /** SHA-256 of the token, in hexadecimal. */
  readonly tokenHash: string;
  readonly issuedAt: Instant;
  readonly revokedAt: Instant | null;
}

/** At most one link for each job. */
export interface CustomerLinks {
  get(shopId: ShopId, jobId: JobId): Promise<CustomerLink | null>;
  /**
   * Writes a link in place of the generation before. Returns false when that is not what stands: somebody else issued
   * one. @throws UnknownReference (job)
   */
  issue(shopId: ShopId, link: Omit<CustomerLink, 'revokedAt'>): Promise<boolean>;
  /** Returns false when that generation does not stand, or stands revoked. */
  revoke(shopId: ShopId, jobId: JobId, generation: number, at: Instant): Promise<boolean>;
  /** Whose page a token opens, in whichever shop; null when it was revoked or never given. */
  find(tokenHash: string): Promise<{ readonly shopId: ShopId; readonly jobId: JobId } | null>;
}
