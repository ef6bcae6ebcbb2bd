import { DateTime } from 'luxon';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import type { Shop } from '../../trade/model/shop.ts';

/** A sentence of the engine with its minutes put as times of day in the shop's zone. */
export function inLocalTime(
  text: string,
  formulation: Pick<Formulation, 'axis'>,
  shop: Pick<Shop, 'timeZone'>,
): string {
  return text.replaceAll(/\bminute (\d+)/g, (_, minute: string) =>
    DateTime.fromMillis(formulation.axis.toInstant(Number(minute)), { zone: shop.timeZone }).toFormat(
      'yyyy-MM-dd HH:mm',
    ),
  );
}
