import { mix, scenarioSeed } from './seeded-draws.ts';

/** So many scenarios are dealt their luck together. */
export const DEAL = 16;

/** Orders that are known, of which each stream takes one, with its cards renumbered and its rounds turned about. */
const ORDERS = 1024;
const CARD_SALT = 0x2545f491;

/** What all draws of one scenario have in common. */
export interface LuckOfScenario {
  /** Of the deal it belongs to. */
  readonly deal: number;
  /** Where it sits in its deal. */
  readonly seat: number;
}

export function luckOfScenario(seed: number, scenario: number): LuckOfScenario {
  return { deal: scenarioSeed(seed, Math.floor(scenario / DEAL)), seat: scenario % DEAL };
}

/**
 * Uniform, more than 0 and less than 1, and spread evenly: of the sixteen scenarios of a deal each draws from another sixteenth, in an
 * order that each stream has for itself, so that what is true of all scenarios needs fewer of them to be known as well (M. D.
 * McKay, R. J. Beckman and W. J. Conover, "A comparison of three methods for selecting values of input variables", Technometrics 21,
 * 1979). A pure function of seed, scenario and stream, as `uniform`. `stream` is a hash, see `mix`.
 */
export function evenly({ deal, seat }: LuckOfScenario, stream: number): number {
  const hash = mix(deal ^ stream);
  const card = ORDER[((hash & (ORDERS - 1)) << 4) | (seat ^ ((hash >>> 10) & 15))]! ^ ((hash >>> 14) & 15);
  return (card + (withinCard(hash, seat) + 0.5) / 0x1_0000_0000) / DEAL;
}

/** One round of the mixer: enough for where in its sixteenth a draw lies. */
function withinCard(hash: number, seat: number): number {
  let x = (hash + Math.imul(seat + 1, 0x9e3779b9)) | 0;
  x = Math.imul(x ^ (x >>> 16), 0x7feb352d);
  x = Math.imul(x ^ (x >>> 15), 0x846ca68b);
  return (x ^ (x >>> 16)) >>> 0;
}

/** Shuffled decks, one after another (R. Durstenfeld, "Algorithm 235: Random permutation", CACM 7, 1964). */
const ORDER = shuffledDecks();

function shuffledDecks(): Uint8Array {
  const decks = new Uint8Array(ORDERS * DEAL);
  for (let first = 0; first < decks.length; first += DEAL) {
    for (let k = 0; k < DEAL; k++) decks[first + k] = k;
    for (let k = DEAL - 1; k > 0; k--) {
      const other = (mix((first + k) ^ CARD_SALT) >>> 0) % (k + 1);
      const card = decks[first + k]!;
      decks[first + k] = decks[first + other]!;
      decks[first + other] = card;
    }
  }
  return decks;
}
