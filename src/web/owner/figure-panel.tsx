import type { ComponentChildren } from 'preact';
import { ownerWords } from '../words/owner.ts';

interface FigurePanelProps {
  readonly id: string;
  readonly title: string;
  /** What the figures are, from what they were worked out. */
  readonly how: string;
  /** Address of the same as CSV. */
  readonly csv?: string;
  readonly acts?: ComponentChildren;
  readonly children: ComponentChildren;
}

/** Figures with what they mean, and the way to have them as a file. */
export function FigurePanel({ id, title, how, csv, acts, children }: FigurePanelProps) {
  return (
    <section class="panel figures" id={id} aria-label={title}>
      <div class="bar">
        <h2>{title}</h2>
        {acts}
        {csv ? (
          <a class="button push" href={csv} download>
            {ownerWords.csv}
          </a>
        ) : null}
      </div>
      <p class="quiet how">{how}</p>
      {children}
    </section>
  );
}

/** A table that scrolls sideways where it is wider than the page. */
export function WideTable({ caption, children }: { caption: string; children: ComponentChildren }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard
    <section class="scroll weektable" aria-label={`${caption}: ${ownerWords.asTable}`} tabIndex={0}>
      <table>
        <caption class="visually-hidden">{caption}</caption>
        {children}
      </table>
    </section>
  );
}
