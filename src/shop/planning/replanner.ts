import type { ShopId } from '../../trade/model/ids.ts';

/** Plans shops again after changes: debounced, one plan at a time a shop. */
export interface Replanner {
  /** Asks for a plan soon; several asks in a row make one plan. */
  ask(shopId: ShopId, reason: string): void;
  /** Resolves when nothing is asked for or under way. */
  settled(shopId: ShopId): Promise<void>;
  /** Stops: plans under way are cancelled, timers cleared. */
  close(): Promise<void>;
}
