import { useState } from 'preact/hooks';
import type { QueueItem } from '../../api/replies.ts';
import { ProblemNote } from '../parts/problem-note.tsx';
import { floorWords } from '../words/floor.ts';
import { tellPhoto } from './act.ts';

/** Takes a photograph with the tablet's camera; without a connection it waits in line like everything else. */
export function PhotoAct({ shopId, item }: { shopId: string; item: QueueItem }) {
  const [taken, setTaken] = useState(0);
  const [error, setError] = useState<Error | null>(null);
  const take = async (input: HTMLInputElement) => {
    const [file] = input.files ?? [];
    if (!file) return;
    input.value = '';
    try {
      await tellPhoto(shopId, item, file);
      setTaken((count) => count + 1);
      setError(null);
    } catch (failure) {
      setError(failure as Error);
    }
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
