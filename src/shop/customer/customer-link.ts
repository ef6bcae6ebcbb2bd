import type { CustomerLink } from '../../store/store.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import { Stale } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import { foundJob } from '../records/found.ts';
import { tell } from '../records/tell.ts';
import type { CustomerDeps } from './deps.ts';
import { hashOfToken } from './link-tokens.ts';

type OfJob = { readonly shopId: ShopId; readonly jobId: JobId };

/** The link to a customer's page as the desk sees it. */
export interface LinkView {
  /** Null when it is revoked, or when none was issued yet. */
  readonly url: string | null;
  /** 0 before the first. */
  readonly generation: number;
  readonly issuedAt: Instant | null;
  readonly revokedAt: Instant | null;
}

/** The link as it stands. @throws NotFound */
export async function findLink(deps: CustomerDeps, of: OfJob): Promise<LinkView> {
  await foundJob(deps.store, of.shopId, of.jobId);
  return viewOf(deps, await deps.store.customerLinks.get(of.shopId, of.jobId));
}

/**
 * The link, issued when there is none yet or when the key has changed since and it cannot be written any more. A
 * revoked one stays revoked. @throws NotFound
 */
export async function linkToShow(deps: CustomerDeps, of: OfJob): Promise<LinkView> {
  const link = await findLink(deps, of);
  if (link.url !== null || link.revokedAt !== null) return link;
  await issue(deps, of, link.generation);
  return findLink(deps, of);
}

/** Issues a new link; the one before opens nothing any more. @throws NotFound, Stale (another was issued meanwhile) */
export async function reissueLink(deps: CustomerDeps, of: OfJob): Promise<LinkView> {
  const { generation } = await findLink(deps, of);
  const issued = await issue(deps, of, generation);
  const link = await findLink(deps, of);
  if (!issued) throw new Stale('link', generation, link.generation);
  return link;
}

/** Makes the link worthless; twice is no error. @throws NotFound, Stale */
export async function revokeLink(deps: CustomerDeps, of: OfJob & { readonly generation: number }): Promise<LinkView> {
  const { shopId, jobId, generation } = of;
  const now = deps.clock();
  await foundJob(deps.store, shopId, jobId);
  const revoked = await deps.store.transaction(shopId, async (records) => {
    const done = await records.customerLinks.revoke(shopId, jobId, generation, now);
    if (done) await tell(records, shopId, now, 'link.changed', jobId, { generation, revoked: true });
    return done;
  });
  const link = await findLink(deps, of);
  if (!revoked && link.generation !== generation) throw new Stale('link', generation, link.generation);
  return link;
}

async function issue(deps: CustomerDeps, of: OfJob, before: number): Promise<boolean> {
  const { shopId, jobId } = of;
  const seed = deps.tokens.newSeed();
  const tokenHash = hashOfToken(deps.tokens.tokenOf(seed));
  const issuedAt = deps.clock();
  return inShopTerms(() =>
    deps.store.transaction(shopId, async (records) => {
      const link = { jobId, generation: before + 1, seed, tokenHash, issuedAt };
      const issued = await records.customerLinks.issue(shopId, link);
      if (issued) await tell(records, shopId, issuedAt, 'link.changed', jobId, { generation: link.generation });
      return issued;
    }),
  );
}

function viewOf(deps: CustomerDeps, link: CustomerLink | null): LinkView {
  if (link === null) return { url: null, generation: 0, issuedAt: null, revokedAt: null };
  const token = deps.tokens.tokenOf(link.seed);
  const opens = link.revokedAt === null && hashOfToken(token) === link.tokenHash;
  const { generation, issuedAt, revokedAt } = link;
  return { url: opens ? `${deps.publicUrl()}/visit/${token}` : null, generation, issuedAt, revokedAt };
}
