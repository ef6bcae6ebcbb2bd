import { useState } from 'preact/hooks';
import type { JobView, Recipe } from '../../api/replies.ts';
import { Tick } from '../parts/field.tsx';
import { jobWords } from '../words/job.ts';

/** What is gone through with the customer when the keys go back; ticked on this device. */
export function HandoverList({ view, recipe }: { view: JobView; recipe: Recipe | undefined }) {
  const key = `panelday.handover.${view.job.id}`;
  const [ticked, setTicked] = useState<readonly string[]>(() => JSON.parse(localStorage.getItem(key) ?? '[]'));
  const items = [...jobWords.handover.items, ...(recipe?.aftercare ?? []).map((each) => jobWords.handover.tell(each))];
  const tick = (item: string) => (on: boolean) => {
    const after = on ? [...ticked, item] : ticked.filter((each) => each !== item);
    localStorage.setItem(key, JSON.stringify(after));
    setTicked(after);
  };
  return (
    <>
      <ul class="plain">
        {items.map((item) => (
          <li key={item}>
            <Tick label={item} on={ticked.includes(item)} onTick={tick(item)} />
          </li>
        ))}
      </ul>
      <p class="quiet">{jobWords.handover.done(items.filter((each) => ticked.includes(each)).length, items.length)}</p>
    </>
  );
}
