import type { Breakdown } from '../work-content/work-content.ts';
import type { Formulation } from './formulation.ts';

/**
 * Why an operation takes as long as it does: the lines of its work content, then what the pace of the crew in a mode
 * changes and what has been done already. The lines add up to the minutes.
 *
 * @throws RangeError when there is no such operation or mode.
 */
export function explainDuration(formulation: Formulation, operation: number, mode: number): Breakdown {
  const { problem, operations, pacePercent, people } = formulation;
  const about = operations[operation];
  const way = problem.operations[operation]?.modes[mode];
  if (about === undefined || way === undefined)
    throw new RangeError(`there is no operation ${operation} with mode ${mode}`);
  const { breakdown, step } = about;
  const lines = [...breakdown.lines];
  let minutes = breakdown.minutes;
  if (step?.duration.by === 'dataSheet') {
    const rates = way.progress === undefined ? undefined : problem.progresses[way.progress]!.rate;
    const slowest = rates === undefined ? 1 : Math.max(1, Math.min(...rates));
    minutes = Math.ceil(way.work / slowest);
    return { minutes, lines: [{ label: `${step.duration.item} by the data sheet, in the expected air`, minutes }] };
  }
  if (about.part === 'rest') {
    const paceOfMode = paceOf();
    const left = Math.floor((way.work * paceOfMode) / 100);
    if (left !== minutes) lines.push({ label: 'done before the interruption', minutes: left - minutes });
    minutes = left;
  }
  const change = way.work - minutes;
  if (change !== 0) lines.push({ label: `pace ${paceOf()} %`, minutes: change });
  return { minutes: way.work, lines };

  function paceOf(): number {
    const crew = way!.uses.filter(({ resource }) => people[resource] !== null);
    return crew.reduce((pace, { resource }) => Math.min(pace, pacePercent[resource]!), crew.length === 0 ? 100 : 1000);
  }
}
