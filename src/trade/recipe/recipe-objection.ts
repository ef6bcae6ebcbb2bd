/** Something in a recipe that cannot be planned or worked safely. */
export interface RecipeObjection {
  /** Path of the field at fault, such as `lags.3.max`. */
  readonly field: string;
  readonly text: string;
}
