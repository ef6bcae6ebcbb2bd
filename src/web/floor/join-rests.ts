import type { QueueItem } from '../../api/replies.ts';

const REST = /\.rest$/;

/**
 * The plan tells interrupted work as two operations: the part that is done, and the rest. To whoever does it they are one, under
 * the name its facts are told by.
 */
export function joinRests(items: readonly QueueItem[]): QueueItem[] {
  const nameOf = ({ jobId, operation }: QueueItem) => `${jobId} ${operation.replace(REST, '')}`;
  const isRest = ({ operation }: QueueItem) => REST.test(operation);
  const begun = new Map(items.filter((item) => !isRest(item)).map((item) => [nameOf(item), item.planned]));
  const continued = new Set(items.filter(isRest).map(nameOf));
  return items.flatMap((item) => {
    if (!isRest(item)) return continued.has(nameOf(item)) ? [] : [item];
    const before = begun.get(nameOf(item));
    const operation = item.operation.replace(REST, '');
    const { planned } = item;
    return [
      {
        ...item,
        operation,
        planned: {
          ...planned,
          operation,
          label: before?.label ?? planned.label,
          pieces: [...(before?.pieces ?? []), ...planned.pieces],
        },
      },
    ];
  });
}
