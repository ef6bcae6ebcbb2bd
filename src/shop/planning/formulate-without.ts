import type { Book, Releases } from '../../trade/formulate/book.ts';
import { formulate } from '../../trade/formulate/formulate.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import type { JobId, PlaceId } from '../../trade/model/ids.ts';
import { whatHappened } from '../floor/what-happened.ts';

/**
 * Formulates a book without the cars that are set aside. Where such a car stands stays taken, unless another car is told
 * to stand there too: two facts in one place are nothing a plan can mend.
 */
export function formulateWithout(book: Book, aside: ReadonlySet<JobId>, releases: Releases = {}): Formulation {
  const formulation = formulate({ ...book, jobs: book.jobs.filter((job) => !aside.has(job.id)) }, releases);
  if (aside.size === 0) return formulation;
  const { problem, places } = formulation;
  const standing = new Set(book.jobs.filter((job) => !aside.has(job.id)).map((job) => placeNow(book, job.id)));
  const taken = [...aside]
    .map((jobId) => placeNow(book, jobId))
    .filter((place): place is PlaceId => place !== null && !standing.has(place) && places.includes(place));
  const more = [...new Set(taken)].map((place) => ({
    place: places.indexOf(place),
    from: problem.now,
    to: problem.horizon,
  }));
  return { ...formulation, problem: { ...problem, takenPlaces: [...problem.takenPlaces, ...more] } };
}

/** Jobs that are open and in no plan, though there is one: the last plan had to set them aside. */
export function setAsideBefore(book: Book): Set<JobId> {
  if (book.previousPlan === null) return new Set();
  const planned = new Set(book.previousPlan.jobs.map((each) => each.jobId));
  return new Set(book.jobs.filter((job) => !planned.has(job.id)).map((job) => job.id));
}

/** When a car came to the place where it stands; null when it is not here. */
export function standsSince(book: Book, jobId: JobId): number | null {
  const events = book.events.filter((event) => event.jobId === jobId);
  const last = whatHappened(events, book.now).stays.at(-1);
  return last === undefined || last.to !== null ? null : last.from;
}

function placeNow(book: Book, jobId: JobId): PlaceId | null {
  const events = book.events.filter((event) => event.jobId === jobId);
  const last = whatHappened(events, book.now).stays.at(-1);
  return last === undefined || last.to !== null ? null : last.placeId;
}
