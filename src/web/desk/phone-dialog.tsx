import type { ComponentProps } from 'preact';
import { WindowDialog } from '../parts/window-dialog.tsx';
import { deskWords } from '../words/desk.ts';
import { Phone } from './phone.tsx';

/** What the phone asks, over the page. */
export function PhoneDialog({ onClose, ...phone }: ComponentProps<typeof Phone> & { onClose: () => void }) {
  return (
    <WindowDialog title={deskWords.phone.title} onClose={onClose}>
      <Phone {...phone} />
    </WindowDialog>
  );
}
