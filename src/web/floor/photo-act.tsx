import { useState } from 'preact/hooks';
import type { QueueItem } from '../../api/replies.ts';
import { ProblemNote } from '../parts/problem-note.tsx';
import { useAttempt } from '../wire/use-attempt.ts';
import { floorWords } from '../words/floor.ts';
import { tellPhoto } from './act.ts';

/** Takes a photograph with the tablet's camera; without a connection it waits in line like everything else. */
export function PhotoAct({ shopId, item }: { shopId: string; item: QueueItem }) {
  const [taken, setTaken] = useState(0);
  const { error, attempt } = useAttempt();
  const take = async (input: HTMLInputElement) => {
    const [file] = input.files ?? [];
    if (!file) return;
    input.value = '';
    await attempt(async () => {
      await tellPhoto(shopId, item, file);
      setTaken((count) => count + 1);
    });
  };
  return (
    <>
      <label class="button photo">
        {floorWords.photo}
        <input
          type="file"
          accept="image/*"
          capture="environment"
          class="visually-hidden"
          onChange={(event) => take(event.currentTarget)}
        />
        <span role="status" class="quiet">
          {taken > 0 ? floorWords.photoTaken(taken) : ''}
        </span>
      </label>
      <ProblemNote error={error} />
    </>
  );
}
