import type { z } from 'zod';
import type { Collection, Records } from '../../store/store.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { Objection } from '../problems/shop-problem.ts';

/** A kind of thing a shop is set up with: what it is called, how it is kept, and what may be wrong with one. */
export interface SetupKind<T extends { readonly id: string }> {
  /** For sentences: "air zone". */
  readonly what: string;
  /** Last part of the address of its list: "air-zones". */
  readonly path: string;
  readonly schema: z.ZodType<T>;
  readonly idSchema: z.core.$ZodType<T['id']>;
  readonly collection: (records: Records) => Collection<T['id'], T>;
  /** The list of a planning book it stands in. */
  readonly inBook: 'airZones' | 'places' | 'technicians' | 'equipment' | 'coatings' | 'recipes';
  /** What in it contradicts itself or the rest of the shop. Empty: nothing. */
  readonly objections: (value: T, records: Records, shopId: ShopId) => Promise<readonly Objection[]>;
}
