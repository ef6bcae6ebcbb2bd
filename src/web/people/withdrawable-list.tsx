import { accessWords } from '../words/access.ts';

interface WithdrawableListProps<T> {
  readonly items: readonly T[];
  readonly busy: boolean;
  /** What is told of one beside its name. */
  readonly about?: (item: T) => string;
  readonly onWithdraw: (item: T) => void;
}

/** Things by name, each with the way to withdraw it. */
export function WithdrawableList<T extends { readonly id: string; readonly name: string }>({
  items,
  busy,
  about,
  onWithdraw,
}: WithdrawableListProps<T>) {
  return (
    <ul class="plain">
      {items.map((each) => (
        <li key={each.id} class="bar">
          <span>
            {each.name} {about ? <span class="quiet">{about(each)}</span> : null}
          </span>
          <button type="button" disabled={busy} onClick={() => onWithdraw(each)}>
            {accessWords.withdraw}
            <span class="visually-hidden"> {each.name}</span>
          </button>
        </li>
      ))}
    </ul>
  );
}
