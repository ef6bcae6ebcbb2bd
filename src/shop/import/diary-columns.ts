/** A column of the diary that can be brought in. */
export interface DiaryColumn {
  readonly name: string;
  readonly required: boolean;
  readonly meaning: string;
}

/**
 * The columns of a diary, named in its first line, in any order; others are refused. Times are local to the shop,
 * `2026-03-02 08:30`. UTF-8, comma or semicolon.
 */
export const DIARY_COLUMNS: readonly DiaryColumn[] = [
  { name: 'customer', required: true, meaning: 'name' },
  { name: 'phone', required: false, meaning: 'telephone number' },
  { name: 'email', required: false, meaning: 'e-mail address' },
  { name: 'vehicle', required: false, meaning: 'what to call the car' },
  { name: 'class', required: true, meaning: 'city, compact, saloon, estate, suv, van or coupe' },
  { name: 'registration', required: false, meaning: 'registration mark' },
  { name: 'colour', required: false, meaning: 'colour' },
  { name: 'length mm', required: true, meaning: 'length in millimetres' },
  { name: 'height mm', required: true, meaning: 'height in millimetres' },
  { name: 'recipe', required: true, meaning: "the recipe's id or name" },
  { name: 'add-ons', required: false, meaning: 'film, interior, glass, wheels, trim, separated by spaces' },
  { name: 'defects', required: false, meaning: '0 none to 4 neglected; 2 when left out' },
  { name: 'soil', required: false, meaning: '0 clean to 3 neglected; 1 when left out' },
  { name: 'drop-off', required: true, meaning: 'told to the customer' },
  { name: 'pickup', required: false, meaning: 'promised to the customer' },
  { name: 'notes', required: false, meaning: 'anything else' },
];
