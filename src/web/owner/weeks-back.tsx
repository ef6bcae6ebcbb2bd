import { Field } from '../parts/field.tsx';
import { ownerWords } from '../words/owner.ts';

const choices = [1, 4, 8, 13, 26, 52];

/** How many weeks are looked at, the one shown the last. */
export function WeeksBack({ weeks, onWeeks }: { weeks: number; onWeeks: (weeks: number) => void }) {
  return (
    <div class="weeksback">
      <Field
        label={ownerWords.weeksBack}
        value={String(weeks)}
        onValue={(value) => onWeeks(Number(value))}
        options={choices.map((each) => ({ value: String(each), label: ownerWords.weeksCount(each) }))}
      />
    </div>
  );
}
