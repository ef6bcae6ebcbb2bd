import type { Principal } from '../../shop/access/principal.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { Need } from './admission.ts';

declare module 'fastify' {
  interface FastifyRequest {
    /** Who asks; `nobody` until the request was let in. */
    principal: Principal;
    /** IANA zone in which instants are written; the shop's once its address has been read. */
    zone: string;
    /** The shop addressed; empty outside `/v1/shops/:shopId`. */
    shopId: ShopId;
    /** The idempotency key this request claimed, until its reply is stored. */
    claim: string | null;
    /** Whether the reply was stored in the transaction of its effect. */
    answered: boolean;
    /** A reply of a status as it goes out; absent on routes that declare no replies. */
    write?: (status: number, payload: unknown) => string;
  }
  interface FastifyContextConfig {
    /** A POST that only computes takes no Idempotency-Key. */
    computesOnly?: boolean;
    /** The address holds the secret that lets in, and no cookie counts: another site has nothing to borrow. */
    secretInAddress?: boolean;
    /** Whether a token may stand in the address, for programs that can send no header. */
    tokenInAddress?: boolean;
    /** What it takes to be allowed; every route under `/v1` says it. */
    needs?: Need;
  }
}
