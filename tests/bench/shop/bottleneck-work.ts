import type { Problem } from '../../../src/engine/problem/problem.ts';

/**
 * By job, the minutes of work it brings to the scarcest person or bay. Work that several could do counts in equal parts
 * for each; the scarcest is the one that gets most over the whole book.
 */
export function bottleneckWork(problem: Problem): Float64Array {
  const people = problem.resources.length;
  const rows = people + problem.places.length;
  const byJob = problem.jobs.map(() => new Float64Array(rows));
  for (const operation of problem.operations) {
    if (operation.presence === 'optional') continue;
    const into = byJob[operation.job]!;
    const share = 1 / operation.modes.length;
    const places = operation.stay === undefined ? [] : problem.stays[operation.stay]!.places;
    for (const { work, uses } of operation.modes) {
      for (const { resource, amount } of uses) {
        into[resource]! += (share * work * amount) / problem.resources[resource]!.capacity;
      }
      // A car waits in the yard at no cost: only bays, which have air of their own, can be scarce.
      for (const place of places) {
        if (problem.places[place]!.zone !== undefined) into[people + place]! += (share * work) / places.length;
      }
    }
  }
  let scarcest = 0;
  let most = -1;
  for (let row = 0; row < rows; row++) {
    const total = byJob.reduce((sum, each) => sum + each[row]!, 0);
    if (total > most) [most, scarcest] = [total, row];
  }
  return Float64Array.from(byJob, (each) => each[scarcest]!);
}
