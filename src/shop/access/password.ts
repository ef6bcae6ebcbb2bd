import { hash, verify } from '@node-rs/argon2';
import { Invalid } from '../problems/problems.ts';

/**
 * argon2id with 19 MiB, 2 passes, 1 lane: the OWASP Password Storage Cheat Sheet's least setting. It runs on libuv's threads.
 * The library's default algorithm is argon2id.
 */
const COST = { memoryCost: 19_456, timeCost: 2, parallelism: 1 } as const;

/** OWASP ASVS 4.0, 2.1.1 and 2.1.2: 12 characters at least, 64 allowed, more than 128 refused. */
const SHORTEST = 12;
const LONGEST = 128;
/** Different characters, so that a row of one letter is no password. */
const LEAST_VARIETY = 5;
/** A PIN counts on one tablet only, and only for so many attempts. */
const PIN = /^\d{4,8}$/;

/** @throws Invalid (field `password`) */
export async function hashPassword(password: string, about: readonly string[]): Promise<string> {
  const characters = [...password.normalize('NFC')];
  if (characters.length < SHORTEST) throw new Invalid(`A password has ${SHORTEST} characters at least.`, 'password');
  if (characters.length > LONGEST) throw new Invalid(`A password has ${LONGEST} characters at most.`, 'password');
  if (new Set(characters).size < LEAST_VARIETY) {
    throw new Invalid(`A password has ${LEAST_VARIETY} different characters at least.`, 'password');
  }
  const folded = password.toLowerCase();
  if (about.some((word) => word.length >= 4 && folded.includes(word.toLowerCase()))) {
    throw new Invalid('A password does not contain the name of its owner.', 'password');
  }
  return hash(password.normalize('NFC'), COST);
}

/** @throws Invalid (field `pin`) */
export async function hashPin(pin: string): Promise<string> {
  if (!PIN.test(pin)) throw new Invalid('A PIN is 4 to 8 digits.', 'pin');
  if (new Set(pin).size === 1) throw new Invalid('A PIN is not one digit repeated.', 'pin');
  if (isRun(pin)) throw new Invalid('A PIN is not a run of digits.', 'pin');
  return hash(pin, COST);
}

function isRun(pin: string): boolean {
  const steps = new Set([...pin].slice(1).map((digit, index) => Number(digit) - Number(pin[index])));
  return steps.size === 1 && (steps.has(1) || steps.has(-1));
}

const NEVER_RIGHT = hash('the secret of nobody', COST);

/** Whether the secret is the one hashed. Without a hash it takes as long and is wrong, so that time tells nothing. */
export async function isRight(secret: string, hashed: string | null): Promise<boolean> {
  const right = await verify(hashed ?? (await NEVER_RIGHT), secret.normalize('NFC'));
  return right && hashed !== null;
}
