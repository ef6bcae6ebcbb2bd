import type { WeekReply } from '../../api/replies.ts';
import { duration } from '../time/format.ts';
import { ownerWords } from '../words/owner.ts';
import { percent } from './week-table.tsx';

const text = ownerWords;

/** The few figures a week comes down to, each with what it was worked out from. */
export function Sayings({ week }: { week: WeekReply }) {
  const total = (part: 'open' | 'worked' | 'curing' | 'waiting') => week.bays.reduce((sum, bay) => sum + bay[part], 0);
  const open = total('open');
  const used = total('worked') + total('curing') + total('waiting');
  const fullest = [...week.bays].filter((bay) => bay.open > 0).sort((a, b) => a.empty / a.open - b.empty / b.open)[0];
  const { due, kept, broken } = week.promises;
  return (
    <div class="sayings">
      <div>
        <div class="figure">{percent(used, open)}</div>
        <div>{text.figures.used}</div>
        <div class="how">{text.figures.usedHow(duration(used), duration(open))}</div>
      </div>
      <div>
        <div class="figure">{percent(total('worked'), used)}</div>
        <div>{text.figures.worked}</div>
        <div class="how">{text.figures.workedHow(duration(total('worked')), duration(used))}</div>
      </div>
      <div>
        <div class="figure">{duration(total('waiting'))}</div>
        <div>{text.figures.waiting}</div>
        <div class="how">{text.figures.waitingHow}</div>
      </div>
      {fullest ? (
        <div>
          <div class="figure">{fullest.name.split(',')[0]}</div>
          <div>{text.figures.fullest}</div>
          <div class="how">{text.figures.fullestHow(duration(fullest.empty), duration(fullest.open))}</div>
        </div>
      ) : null}
      <div>
        <div class="figure">
          {kept} <span class="mark safe">{text.kept}</span>{' '}
          {broken > 0 ? <span class="mark risk">{`${broken} ${text.broken}`}</span> : null}
        </div>
        <div>
          {text.ofDue(due)}, {week.promises.open} {text.stillOpen}
        </div>
        <div class="how">{text.promises}</div>
      </div>
    </div>
  );
}
