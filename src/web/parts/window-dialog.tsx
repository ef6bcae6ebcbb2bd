import type { ComponentChildren } from 'preact';
import { useEffect, useId, useRef } from 'preact/hooks';
import { words } from '../words.ts';

/** A dialog over the page: focus goes in, Escape and the button close it, and focus goes back to where it was. */
export function WindowDialog({
  title,
  onClose,
  children,
}: {
  title: string;
  onClose: () => void;
  children: ComponentChildren;
}) {
  const box = useRef<HTMLDialogElement>(null);
  const heading = useId();
  useEffect(() => {
    const before = document.activeElement;
    box.current?.showModal();
    box.current?.querySelector<HTMLElement>('.inside input, .inside button')?.focus();
    return () => (before instanceof HTMLElement ? before.focus() : undefined);
  }, []);
  return (
    <dialog ref={box} aria-labelledby={heading} onClose={onClose}>
      <header>
        <h2 id={heading}>{title}</h2>
        <button type="button" onClick={onClose}>
          {words.close}
        </button>
      </header>
      <div class="inside">{children}</div>
    </dialog>
  );
}
