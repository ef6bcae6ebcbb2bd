import type { FastifyBaseLogger } from 'fastify';
import type { Registry } from 'prom-client';
import type { Authorship } from '../shop/access/authorship.ts';
import type { FirstAdministrator } from '../shop/access/first-administrator.ts';
import type { WhoAsks } from '../shop/access/who-asks.ts';
import type { CustomerService } from '../shop/customer/deps.ts';
import type { ShopDeps } from '../shop/deps.ts';
import type { MonthPlanner } from '../shop/owner-what-ifs/month-planner.ts';
import type { ShopId } from '../trade/model/ids.ts';

/** What the API needs; `main.ts` makes it. */
export interface ApiDeps {
  /** Dependencies of the use cases, handed on as they are. */
  readonly shop: ShopDeps;
  /** Plans drawn months off this thread; without it they are planned here. */
  readonly months?: MonthPlanner;
  /** Tells who sends a request, and so what they may do. */
  readonly whoAsks: WhoAsks;
  /** Carries who asks to where it is written; absent: everything is written in the server's name. */
  readonly authorship?: Authorship;
  /** Makes the first administrator; absent: there is none to be made. */
  readonly firstAdministrator?: FirstAdministrator;
  /** The invented shop into which this machine's own browser gets without a password; absent: none. */
  readonly demoShop?: ShopId;
  /** Requests a minute that one account, or one address nobody has signed in from, may send; absent: any number. */
  readonly requestsPerMinute?: number;
  /** How customers are spoken to; absent: by links of this process's own, and no e-mail. */
  readonly customers?: CustomerService;
  /** Shown in the OpenAPI document and by the health reply. */
  readonly version: string;
  /** pino, or absent for silence. */
  readonly logger?: FastifyBaseLogger;
  /** Rejects while the service should get no traffic (store down, workers dead). The store is asked anyway. */
  readonly ready?: () => Promise<void>;
  /** Metrics beside the API's own; absent: a new registry. */
  readonly metrics?: Registry;
  /** Folder with the built screens; absent: none are served. */
  readonly webRoot?: string;
  /** Names this server answers under, beside `localhost` and addresses in figures; absent: any. */
  readonly hosts?: readonly string[];
  /** Addresses of proxies whose word on where a request comes from is taken; absent: of none. */
  readonly trustedProxies?: readonly string[];
  /** Largest body in bytes; 1 MiB when left out. A diary has its own: 5 MiB. */
  readonly bodyLimitBytes?: number;
  /** Milliseconds between the comments that keep an event stream open; 15,000 when left out. */
  readonly heartbeatMs?: number;
}
