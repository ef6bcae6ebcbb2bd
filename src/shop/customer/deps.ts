import type { ShopDeps } from '../deps.ts';
import type { Mailer } from '../messages/mailer.ts';
import type { LinkTokens } from './link-tokens.ts';

/** What speaking to customers needs beside the shop's own. */
export interface CustomerService {
  readonly tokens: LinkTokens;
  /** Address under which customers reach this server, without a slash at its end. */
  readonly publicUrl: () => string;
  /** Null: e-mail is off. */
  readonly mailer: Mailer | null;
  /** Sends what is due now, soon; absent: whoever sends comes by in a while. */
  readonly wake?: () => void;
}

export type CustomerDeps = Pick<ShopDeps, 'store' | 'clock' | 'newId' | 'log'> & CustomerService;
