import { duration } from '../time/format.ts';
import { words } from '../words.ts';

interface WeekTableProps {
  readonly caption: string;
  readonly csv: string;
  readonly rows: readonly {
    readonly id: string;
    readonly name: string;
    readonly open: number;
    readonly parts: Readonly<Record<string, unknown>>;
  }[];
  /** Which hatching stands for which part, in order. */
  readonly look: Readonly<Record<string, string>>;
  readonly names: Readonly<Record<string, string>>;
}

/** Hours of a week as bars that add up to the hours open, with the figures beside them. */
export function WeekTable({ caption, csv, rows, look, names }: WeekTableProps) {
  const parts = Object.keys(look);
  const minutes = (row: WeekTableProps['rows'][number], part: string) => Number(row.parts[part] ?? 0);
  return (
    <section class="panel">
      <div class="bar">
        <h2>{caption}</h2>
        <a href={csv} download>
          {words.owner.csv}
        </a>
      </div>
      <ul class="key">
        {parts.map((part) => (
          <li key={part}>
            <span class={`swatch weekbar-${part} ${look[part]}`} /> {names[part]}
          </li>
        ))}
      </ul>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard */}
      <section class="scroll" aria-label={caption} tabIndex={0}>
        <table>
          <caption class="visually-hidden">{caption}</caption>
          <thead>
            <tr>
              <th scope="col">{caption}</th>
              <td />
              <th scope="col" class="number">
                {words.owner.open}
              </th>
              {parts.map((part) => (
                <th scope="col" class="number" key={part}>
                  {names[part]}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.id}>
                <th scope="row">{row.name}</th>
                <td>
                  <div class="weekbar">
                    {row.open > 0
                      ? parts.map((part) => {
                          const share = (100 * minutes(row, part)) / row.open;
                          return share > 0 ? (
                            <span key={part} class={look[part]} style={{ width: `${share}%` }} />
                          ) : null;
                        })
                      : null}
                  </div>
                </td>
                <td class="number">{duration(row.open)}</td>
                {parts.map((part) => (
                  <td class="number" key={part}>
                    {duration(minutes(row, part))}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </section>
  );
}
