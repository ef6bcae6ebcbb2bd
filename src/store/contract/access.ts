import type { AccountId, DeviceId, ShopId, TechnicianId, TokenId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { Expected } from './collection.ts';

/** What an account is in one shop. */
export interface AccountRole {
  readonly shopId: ShopId;
  readonly role: string;
  /** The person of the shop's plan who this is. */
  readonly technicianId: TechnicianId | null;
  /** argon2id in PHC form; null: no PIN. */
  readonly pinHash: string | null;
}

/** Somebody who signs in. */
export interface Account {
  readonly id: AccountId;
  readonly version: number;
  /** In lower case; unique. */
  readonly signInName: string;
  readonly name: string;
  /** argon2id in PHC form; null: signs in by PIN alone. */
  readonly passwordHash: string | null;
  /** Administers every shop of this server. */
  readonly administrator: boolean;
  readonly disabled: boolean;
  readonly roles: readonly AccountRole[];
}

/** Attempts to guess a secret: how many failed in a row, and until when none is looked at. */
export interface Attempts {
  readonly failed: number;
  readonly lockedUntil: Instant | null;
}

/** Accounts of people. */
export interface Accounts {
  /** How many can administer the server. */
  administrators(): Promise<number>;
  get(id: AccountId): Promise<Account | null>;
  bySignInName(signInName: string): Promise<Account | null>;
  /** Accounts with a role in the shop, by name. */
  listOf(shopId: ShopId): Promise<Account[]>;
  /** Writes the account and all its roles. @throws StaleVersion, NotFound, AlreadyExists (the id or the sign-in name), UnknownReference (roles) */
  put(account: Omit<Account, 'version'>, expected: Expected): Promise<Account>;
  /**
   * Counts an attempt before its secret is looked at, so that two at once both count. Returns the attempts before it;
   * null when they are locked, and then nothing is counted.
   */
  countAttempt(id: AccountId, now: Instant, lockUntil: (failed: number) => Instant | null): Promise<Attempts | null>;
  clearAttempts(id: AccountId): Promise<void>;
}

/** A session. */
export interface SignIn {
  readonly secretHash: string;
  readonly accountId: AccountId;
  readonly deviceId: DeviceId | null;
  /** The one shop it reaches; null: all of the account's. */
  readonly shopId: ShopId | null;
  readonly createdAt: Instant;
  readonly lastSeenAt: Instant;
  readonly expiresAt: Instant;
}

export interface SignIns {
  add(signIn: SignIn): Promise<void>;
  get(secretHash: string): Promise<SignIn | null>;
  seen(secretHash: string, lastSeenAt: Instant): Promise<void>;
  end(secretHash: string): Promise<void>;
  /** Ends every session of an account, but for one of them. */
  endAllOf(accountId: AccountId, butSecretHash?: string): Promise<void>;
  /** Removes what has expired. Returns how many. */
  purge(now: Instant): Promise<number>;
}

/** A shared tablet on which PINs count. */
export interface Device {
  readonly shopId: ShopId;
  readonly id: DeviceId;
  readonly name: string;
  readonly secretHash: string;
  readonly createdAt: Instant;
}

export interface Devices {
  list(shopId: ShopId): Promise<Device[]>;
  bySecret(secretHash: string): Promise<Device | null>;
  add(device: Device): Promise<void>;
  /** Withdraws the device and ends its sessions. @throws NotFound */
  remove(shopId: ShopId, id: DeviceId): Promise<void>;
  /** As `Accounts.countAttempt`, for PINs tried on the device. */
  countAttempt(
    shopId: ShopId,
    id: DeviceId,
    now: Instant,
    lockUntil: (failed: number) => Instant | null,
  ): Promise<Attempts | null>;
  clearAttempts(shopId: ShopId, id: DeviceId): Promise<void>;
}

/** Lets a program ask in a shop's name. */
export interface ApiToken {
  readonly shopId: ShopId;
  readonly id: TokenId;
  readonly name: string;
  readonly secretHash: string;
  readonly scopes: readonly string[];
  readonly createdAt: Instant;
  readonly createdBy: string;
  /** Null: until it is withdrawn. */
  readonly expiresAt: Instant | null;
}

export interface ApiTokens {
  list(shopId: ShopId): Promise<ApiToken[]>;
  bySecret(secretHash: string): Promise<ApiToken | null>;
  add(token: ApiToken): Promise<void>;
  /** @throws NotFound */
  remove(shopId: ShopId, id: TokenId): Promise<void>;
}
