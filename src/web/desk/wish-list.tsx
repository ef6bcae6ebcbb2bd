import { useState } from 'preact/hooks';
import type { JobView, Place, Shop, Technician, Wish, WithdrawnReply } from '../../api/replies.ts';
import { dayAndTime } from '../time/format.ts';
import { deskWords } from '../words/desk.ts';
import { UndoWish, WithdrawnNote } from './undo-wish.tsx';

const text = deskWords.wishes;

interface WishListProps {
  readonly shop: Shop;
  readonly view: JobView;
  readonly places: readonly Place[];
  readonly people: readonly Technician[];
  readonly onDone: () => void;
}

/** What the desk decided about this car and the plan keeps, each with a way back. */
export function WishList({ shop, view, places, people, onDone }: WishListProps) {
  const [undone, setUndone] = useState<WithdrawnReply | null>(null);
  const wishes = (view.job.wishes ?? []).filter((wish) => isAhead(view, wish));
  if (wishes.length === 0 && undone === null) return null;
  return (
    <section>
      <h3>{text.title}</h3>
      <ul class="plain">
        {wishes.map((wish) => (
          <li key={wish.operation} class="wish">
            <span>
              {view.operations.find((each) => each.operation === wish.operation)?.label ?? wish.operation}{' '}
              {saying(wish, shop, places, people)}
            </span>
            <UndoWish
              shop={shop}
              jobId={view.job.id}
              operation={wish.operation}
              planVersion={null}
              onDone={(withdrawn) => {
                setUndone(withdrawn);
                onDone();
              }}
            />
          </li>
        ))}
      </ul>
      {undone ? <WithdrawnNote withdrawn={undone} zone={shop.timeZone} places={places} /> : null}
    </section>
  );
}

/** A wish binds until its work begins. */
function isAhead({ operations }: JobView, wish: Wish): boolean {
  return operations.some(
    (each) => each.operation === wish.operation && (each.state === 'planned' || each.state === 'paused'),
  );
}

function saying(wish: Wish, shop: Shop, places: readonly Place[], people: readonly Technician[]): string {
  const name = (all: readonly { id: string; name: string }[], id: string) =>
    all.find((each) => each.id === id)?.name ?? id;
  return [
    wish.startAt ? text.at(dayAndTime(shop.timeZone, wish.startAt)) : '',
    wish.notBefore ? text.notBefore(dayAndTime(shop.timeZone, wish.notBefore)) : '',
    wish.placeId ? text.in(name(places, wish.placeId)) : '',
    wish.personId ? text.by(name(people, wish.personId)) : '',
  ]
    .filter(Boolean)
    .join(', ');
}
