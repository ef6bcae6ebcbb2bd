import { daysAfter, longDay, mondayOf } from '../time/format.ts';
import { bookingWords } from '../words/booking.ts';
import { deskWords } from '../words/desk.ts';
import { words } from '../words.ts';

export type View = 'place' | 'person' | 'week';

interface DayBarProps {
  readonly day: string;
  readonly today: string;
  readonly view: View;
  readonly onDay: (day: string) => void;
  readonly onView: (view: View) => void;
  readonly onBook: () => void;
  readonly onPhone: () => void;
}

/** Which day, seen how; and the way to book. */
export function DayBar({ day, today, view, onDay, onView, onBook, onPhone }: DayBarProps) {
  const step = view === 'week' ? 7 : 1;
  return (
    <div class="bar">
      <h1>{view === 'week' ? words.sheet.weekOf(longDay(mondayOf(day))) : longDay(day)}</h1>
      <div class="group no-print">
        <button
          type="button"
          aria-label={view === 'week' ? words.week.before : words.day.before}
          onClick={() => onDay(daysAfter(day, -step))}
        >
          ←
        </button>
        <button type="button" onClick={() => onDay(today)} disabled={day === today}>
          {words.day.today}
        </button>
        <button
          type="button"
          aria-label={view === 'week' ? words.week.after : words.day.after}
          onClick={() => onDay(daysAfter(day, step))}
        >
          →
        </button>
      </div>
      <input
        class="no-print"
        type="date"
        aria-label={words.day.pick}
        value={day}
        onChange={(event) => event.currentTarget.value && onDay(event.currentTarget.value)}
      />
      {/* biome-ignore lint/a11y/useSemanticElements: a fieldset is for fields of a form */}
      <div class="group no-print" role="group" aria-label={words.sheet.seen}>
        {(['place', 'person', 'week'] as const).map((each) => (
          <button type="button" class="choice" key={each} aria-pressed={view === each} onClick={() => onView(each)}>
            {words.sheet.views[each]}
          </button>
        ))}
      </div>
      <button type="button" class="no-print" onClick={() => print()}>
        {words.print}
      </button>
      <div class="bar push no-print">
        <button type="button" onClick={onPhone}>
          {deskWords.phone.open}
        </button>
        <button type="button" class="main" onClick={onBook}>
          {bookingWords.open}
        </button>
      </div>
    </div>
  );
}
