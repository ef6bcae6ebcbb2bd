import type { JSX } from 'preact';
import { useId } from 'preact/hooks';

interface FieldProps {
  readonly label: string;
  readonly value: string;
  readonly onValue: (value: string) => void;
  readonly fault?: string | undefined;
  readonly options?: readonly { readonly value: string; readonly label: string }[];
  readonly input?: JSX.InputHTMLAttributes<HTMLInputElement>;
  /** Two columns of the form, or a row of it. */
  readonly wide?: boolean | 'row';
}

/** A labelled input or choice with the fault beside it that the server named. */
export function Field({ label, value, onValue, fault, options, input, wide }: FieldProps) {
  const id = useId();
  const shared = {
    id,
    value,
    'aria-invalid': fault ? true : undefined,
    'aria-describedby': fault ? `${id}-fault` : undefined,
  } as const;
  return (
    <div class={`field ${wide === 'row' ? 'row' : wide ? 'wide' : ''}`}>
      <label for={id}>{label}</label>
      {options ? (
        <select {...shared} onChange={(event) => onValue(event.currentTarget.value)}>
          {options.map((option) => (
            <option key={option.value} value={option.value}>
              {option.label}
            </option>
          ))}
        </select>
      ) : (
        <input {...input} {...shared} onInput={(event) => onValue(event.currentTarget.value)} />
      )}
      {fault ? (
        <div class="fault" id={`${id}-fault`}>
          {fault}
        </div>
      ) : null}
    </div>
  );
}

/** One thing that is so or not. */
export function Tick({ label, on, onTick }: { label: string; on: boolean; onTick: (on: boolean) => void }) {
  return (
    <label class="tick">
      <input type="checkbox" checked={on} onChange={(event) => onTick(event.currentTarget.checked)} />
      {label}
    </label>
  );
}
