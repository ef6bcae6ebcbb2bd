import { createHash, randomBytes } from 'node:crypto';

const BYTES = 32;

/** A secret nobody can guess: 256 random bits (OWASP ASVS 4.0, 3.2.2 asks for 64 at least). */
export function newSecret(): string {
  return randomBytes(BYTES).toString('base64url');
}

/** What is kept of a random secret. It has too many bits to be guessed, so a fast hash is enough. */
export function hashOfSecret(secret: string): string {
  return createHash('sha256').update(secret).digest('hex');
}
