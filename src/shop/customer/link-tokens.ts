import { createHash, createHmac, randomBytes } from 'node:crypto';

/** Tokens of customers' links: 192 bits that nobody guesses. */
export interface LinkTokens {
  /** What the store keeps of a new link. */
  newSeed(): string;
  /** The token a seed stands for; the same seed gives the same one, so that a message can carry the link again. */
  tokenOf(seed: string): string;
}

const TOKEN_BYTES = 24;

/** What a token looks like: 32 letters of base64url. */
export const TOKEN_FORM = /^[A-Za-z0-9_-]{32}$/;

/**
 * Makes tokens by HMAC-SHA-256 (RFC 2104) from seeds. With a key that is not in the database, who reads a copy of the
 * database opens no page; without one the token is as secret as the database.
 */
export function linkTokens(key: string, random: (bytes: number) => Buffer = randomBytes): LinkTokens {
  return {
    newSeed: () => random(TOKEN_BYTES).toString('base64url'),
    tokenOf: (seed) => createHmac('sha256', key).update(seed).digest().subarray(0, TOKEN_BYTES).toString('base64url'),
  };
}

/** How the store knows a token. */
export function hashOfToken(token: string): string {
  return createHash('sha256').update(token).digest('hex');
}
