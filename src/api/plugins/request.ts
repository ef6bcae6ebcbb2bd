import type { ShopId } from '../../trade/model/ids.ts';

/** Who asks. In this release everybody who reaches the server; `principalOf` is the one place that decides. */
export interface Principal {
  readonly name: string;
}

declare module 'fastify' {
  interface FastifyRequest {
    principal: Principal;
    /** IANA zone in which instants are written; the shop's once its address has been read. */
    zone: string;
    /** The shop addressed; empty outside `/v1/shops/:shopId`. */
    shopId: ShopId;
    /** The idempotency key this request claimed, until its reply is stored. */
    claim: string | null;
  }
  interface FastifyContextConfig {
    /** A POST that only computes takes no Idempotency-Key. */
    computesOnly?: boolean;
  }
}
