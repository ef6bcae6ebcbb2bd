import type { PanelName } from '../../api/replies.ts';
import { Field, Tick } from '../parts/field.tsx';
import { localDateOf } from '../time/format.ts';
import { deskWords } from '../words/desk.ts';
import { words } from '../words.ts';
import type { Repaint } from './booking-draft.ts';
import type { FieldsProps } from './booking-fields.tsx';

const text = deskWords.repaints;
const panels = Object.entries(words.panels).map(([value, label]) => ({ value, label }));

/** Panels painted lately: fresh paint is coated only on the painter's word. */
export function RepaintFields({ draft, change, fault }: FieldsProps) {
  const { repaints } = draft;
  const put = (index: number, part: Partial<Repaint>) =>
    change({ repaints: repaints.map((each, k) => (k === index ? { ...each, ...part } : each)) });
  const today = localDateOf(Intl.DateTimeFormat().resolvedOptions().timeZone, Date.now());
  return (
    <fieldset>
      <legend>{text.title}</legend>
      <p class="quiet">{text.meaning}</p>
      {repaints.map((repaint, index) => (
        <div class="fields repaint" key={`${index} ${repaints.length}`}>
          <Field
            label={text.panel}
            value={repaint.panel}
            onValue={(panel) => put(index, { panel: panel as PanelName })}
            options={panels}
          />
          <Field
            label={text.paintedOn}
            value={repaint.paintedOn}
            onValue={(paintedOn) => put(index, { paintedOn })}
            fault={fault(`repaints/${index}/paintedOn`)}
            input={{ type: 'date', required: true, max: today }}
          />
          <Tick
            label={text.cleared}
            on={repaint.painterCleared}
            onTick={(painterCleared) => put(index, { painterCleared })}
          />
          <button type="button" onClick={() => change({ repaints: repaints.filter((_, k) => k !== index) })}>
            {text.remove} <span class="visually-hidden">{words.panels[repaint.panel]}</span>
          </button>
        </div>
      ))}
      <button
        type="button"
        onClick={() =>
          change({ repaints: [...repaints, { panel: 'bonnet', paintedOn: today, painterCleared: false }] })
        }
      >
        {text.add}
      </button>
    </fieldset>
  );
}
