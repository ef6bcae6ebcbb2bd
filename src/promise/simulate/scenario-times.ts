/** When everything happens in the scenario at hand, by node, while it is being computed. */
export interface ScenarioTimes {
  readonly start: Int32Array;
  readonly end: Int32Array;
  readonly present: Uint8Array;
}
