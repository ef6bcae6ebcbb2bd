import { z } from 'zod';
import { Permission, Role } from '../../../shop/access/permission.ts';
import { AccountId, DeviceId, ShopId, TechnicianId, TokenId } from '../../../trade/model/ids.ts';
import { Instant } from '../../../trade/model/time.ts';
import { listOf } from '../../wire/reply.ts';

const secret = z.string().min(1).max(200);

export const PasswordBody = z.object({
  signInName: z.string().min(1).max(120),
  password: z.string().min(1).max(1_000),
});
export const PinBody = z.object({ accountId: AccountId, pin: z.string().min(1).max(20) });
export const DemoBody = z.object({ role: Role });
export const FirstBody = z.object({
  secret,
  signInName: z.string().trim().min(3).max(120),
  name: z.string().trim().min(1).max(120),
  password: z.string().min(1).max(1_000),
});

export const WaysIn = z.object({
  /** Roles of the invented shop to look at with one click; empty: there is no such way in. */
  demoRoles: z.array(Role),
  /** Whether the server waits for its first administrator. */
  firstAdministrator: z.boolean(),
  /** When this is one of a shop's tablets: which, and who has a PIN there. */
  tablet: z
    .object({
      shopId: ShopId,
      name: z.string(),
      people: listOf(z.object({ accountId: AccountId, name: z.string(), technicianId: TechnicianId.nullable() })),
    })
    .nullable(),
});

export const Me = z.object({
  name: z.string(),
  accountId: AccountId.nullable(),
  administrator: z.boolean(),
  /** Whether this is a shop's tablet. */
  onTablet: z.boolean(),
  shops: z.array(z.object({ shopId: ShopId, permissions: z.array(Permission), technicianId: TechnicianId.nullable() })),
});

export const OwnPasswordBody = z.object({ current: z.string().min(1).max(1_000), password: z.string().max(1_000) });

export const AccountReply = z.object({
  id: AccountId,
  version: z.int(),
  signInName: z.string(),
  name: z.string(),
  role: Role,
  technicianId: TechnicianId.nullable(),
  hasPassword: z.boolean(),
  hasPin: z.boolean(),
  disabled: z.boolean(),
  administrator: z.boolean(),
});

export const TabletBody = z.object({ name: z.string().trim().min(1).max(120) });
export const TabletReply = z.object({ id: DeviceId, name: z.string(), createdAt: Instant });

export const TokenReply = z.object({
  id: TokenId,
  name: z.string(),
  scopes: listOf(z.string()),
  createdAt: Instant,
  createdBy: z.string(),
  expiresAt: Instant.nullable(),
});
/** Only the reply that makes it tells the token's secret. */
export const NewTokenReply = TokenReply.extend({ secret: z.string() });
