import type { ComponentProps } from 'preact';
import { WindowDialog } from '../parts/window-dialog.tsx';
import { bookingWords } from '../words/booking.ts';
import { BookingForm } from './booking-form.tsx';

/** Booking a car, over the page. */
export function BookingDialog({ onClose, ...form }: ComponentProps<typeof BookingForm> & { onClose: () => void }) {
  return (
    <WindowDialog title={bookingWords.title} onClose={onClose}>
      <BookingForm {...form} />
    </WindowDialog>
  );
}
