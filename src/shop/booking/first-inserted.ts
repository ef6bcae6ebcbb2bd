import type { Job } from '../../trade/model/job.ts';
import type { Inserted, ResidentBook, ResidentOptions } from '../planning/resident-book.ts';

/** The first way to take a car in without moving anybody; null when there is none, or the book cannot tell. */
export function firstInserted(resident: ResidentBook, job: Job, options?: ResidentOptions): Inserted | null {
  const found = resident.insert(job, options);
  return found !== null && 'length' in found ? (found[0] ?? null) : null;
}
