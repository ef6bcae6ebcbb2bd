/** What all shops of a database hold, in numbers: for whoever watches over the server. */
export interface Tally {
  readonly shops: number;
  readonly jobs: Readonly<Record<string, number>>;
  readonly messages: Readonly<Record<string, number>>;
  readonly unacknowledgedExceptions: number;
  /** Plans published since the first; the same from any server of the database. */
  readonly plans: number;
  /** News told since the first. */
  readonly news: number;
}
