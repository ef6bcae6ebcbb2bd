import { duration } from '../time/format.ts';
import { ownerWords } from '../words/owner.ts';

export interface WeekRow {
  readonly id: string;
  readonly name: string;
  readonly open: number;
  /** Minutes by part; the parts add up to `open`. */
  readonly parts: Readonly<Record<string, number>>;
  readonly overtime?: number;
}

interface WeekTableProps {
  readonly caption: string;
  readonly csv: string;
  readonly rows: readonly WeekRow[];
  /** Which hatching stands for which part, in order. */
  readonly look: Readonly<Record<string, string>>;
  readonly names: Readonly<Record<string, string>>;
}

/** Hours of a week as bars that add up to the hours open, with the figures, their shares and the sum beside them. */
export function WeekTable({ caption, csv, rows, look, names }: WeekTableProps) {
  const parts = Object.keys(look);
  const all: WeekRow = {
    id: 'all',
    name: ownerWords.all,
    open: sum(rows.map((row) => row.open)),
    parts: Object.fromEntries(parts.map((part) => [part, sum(rows.map((row) => row.parts[part] ?? 0))])),
  };
  const overtime = sum(rows.map((row) => row.overtime ?? 0));
  const line = (row: WeekRow) => (
    <>
      <td class="share">
        <Bar row={row} parts={parts} look={look} />
      </td>
      {parts.map((part) => (
        <td class="number" key={part}>
          {duration(row.parts[part] ?? 0)}
          <small>{percent(row.parts[part] ?? 0, row.open)}</small>
        </td>
      ))}
      <td class="number">
        {duration(row.open)}
        {row.overtime ? (
          <small>
            + {duration(row.overtime)} {ownerWords.overtime}
          </small>
        ) : null}
      </td>
    </>
  );
  return (
    <section class="panel weektable" aria-label={caption}>
      <div class="bar">
        <h2>{caption}</h2>
        <ul class="key">
          {parts.map((part) => (
            <li key={part}>
              <span class={`swatch ${look[part]}`} /> {names[part]}
            </li>
          ))}
        </ul>
        <a class="button push" href={csv} download>
          {ownerWords.csv}
        </a>
      </div>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard */}
      <section class="scroll" aria-label={`${caption}: ${ownerWords.part}`} tabIndex={0}>
        <table>
          <caption class="visually-hidden">{caption}</caption>
          <thead>
            <tr>
              <th scope="col">{caption}</th>
              <th scope="col">{ownerWords.part}</th>
              {parts.map((part) => (
                <th scope="col" class="number" key={part}>
                  {names[part]}
                </th>
              ))}
              <th scope="col" class="number">
                {ownerWords.open}
              </th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.id}>
                <th scope="row">{row.name}</th>
                {line(row)}
              </tr>
            ))}
          </tbody>
          <tfoot>
            <tr>
              <th scope="row">{all.name}</th>
              {line({ ...all, overtime })}
            </tr>
          </tfoot>
        </table>
      </section>
      <p class="quiet">
        {ownerWords.adds(
          parts.map((part) => `${duration(all.parts[part] ?? 0)} ${names[part]}`).join(' + '),
          duration(all.open),
        )}
      </p>
    </section>
  );
}

function Bar({ row, parts, look }: { row: WeekRow; parts: readonly string[]; look: Readonly<Record<string, string>> }) {
  return (
    <div class="weekbar" aria-hidden="true">
      {parts.map((part) => {
        const share = row.open > 0 ? (100 * (row.parts[part] ?? 0)) / row.open : 0;
        return share > 0 ? <span key={part} class={look[part]} style={{ width: `${share}%` }} /> : null;
      })}
    </div>
  );
}

const sum = (figures: readonly number[]) => figures.reduce((total, each) => total + each, 0);

export const percent = (part: number, whole: number) => (whole > 0 ? `${Math.round((100 * part) / whole)} %` : '–');
