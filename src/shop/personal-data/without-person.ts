import type { Trace } from '../../store/store.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import { folded } from './same-person.ts';
import type { WordsOfPerson } from './words-of-person.ts';

/** Stands where a name or a note was. */
export const ERASED = '(erased)';
/** Stands where a word was; no longer than the shortest that is taken out, so that no text grows past its limit. */
const GAP = '[…]';

/** A booking without its customer. What was done, when, for how much and what was promised stays. */
export function erasedJob(job: Job, at: Instant): Job {
  const { inspection } = job;
  return {
    ...job,
    customer: { name: ERASED, phone: '', email: '' },
    vehicle: { ...job.vehicle, registration: '', description: '' },
    depositNote: gone(job.depositNote),
    notes: gone(job.notes),
    inspection:
      inspection === null
        ? null
        : { ...inspection, panels: inspection.panels.map(({ panel, defects }) => ({ panel, defects })) },
    erasedAt: at,
  };
}

/** Fields in which somebody writes what they like. */
const NOTES: ReadonlySet<string> = new Set(['notes', 'depositNote', 'note']);

/** Takes a person out of texts. */
export function withoutPerson(jobIds: ReadonlySet<string>, words: WordsOfPerson) {
  const own = scrubber(words.own);
  const anywhere = scrubber(words.anywhere);

  /** `theirs`: within what belongs to one of the person's bookings; `inFact`: within what the floor told of it. */
  function scrub(value: unknown, theirs: boolean, inFact: boolean): unknown {
    if (typeof value === 'string') return (theirs ? own : anywhere)(value);
    if (Array.isArray(value)) return value.map((each) => scrub(each, theirs, inFact));
    if (typeof value !== 'object' || value === null) return value;
    const within = theirs || isOf(value as Record<string, unknown>);
    return Object.fromEntries(
      Object.entries(value).map(([key, part]) => {
        if (!within) return [key, scrub(part, false, false)];
        if (key === 'customer' && typeof part === 'object') return [key, { name: ERASED, phone: '', email: '' }];
        if (key === 'vehicle' && typeof part === 'object') return [key, { ...part, registration: '', description: '' }];
        const isNote = NOTES.has(key) || (inFact && (key === 'text' || key === 'reason'));
        if (isNote && typeof part === 'string') return [key, gone(part)];
        return [key, scrub(part, true, inFact || key === 'fact')];
      }),
    );
  }

  /** Whether an object is one of the bookings, or says that it belongs to one. */
  function isOf({ id, jobId, vehicle }: Record<string, unknown>): boolean {
    return jobIds.has(String(jobId)) || (jobIds.has(String(id)) && vehicle !== undefined);
  }

  /** A column of a row's text, which is JSON as a rule. */
  return (text: string, { table, about }: Pick<Trace, 'table' | 'about'>): string => {
    const theirs = about !== null && jobIds.has(about);
    let value: unknown;
    try {
      value = JSON.parse(text);
    } catch {
      return (theirs ? own : anywhere)(text);
    }
    return JSON.stringify(scrub(value, theirs, theirs && table === 'floorEvent'));
  };
}

function gone(note: string): string {
  return note === '' ? '' : ERASED;
}

/** Replaces words wherever they stand by themselves, whatever their case, spaces, dots and dashes. */
function scrubber(words: readonly string[]): (text: string) => string {
  if (words.length === 0) return (text) => text;
  const pattern = new RegExp(`(?<![\\p{L}\\p{N}])(?:${words.map(asPattern).join('|')})(?![\\p{L}\\p{N}])`, 'giu');
  return (text) => text.replace(pattern, GAP);
}

function asPattern(word: string): string {
  const characters = [...folded(word)].map((each) => each.replace(/[.\\+*?^$[\](){}|/-]/g, '\\$&'));
  return characters.join("[\\s\\-./()'’,]*");
}
