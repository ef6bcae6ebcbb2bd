/** Texts of the inspection on clean paint. */
export const inspectionWords = {
  title: 'Inspection on clean paint',
  pick: 'Choose a panel to grade',
  film: 'Film, µm',
  gauge: (error: number) =>
    `Total build, not clear coat; a gauge errs by about ${error} µm. Leave plastic empty: the lead decides.`,
  record: 'Record the inspection',
  passes: (count: number) => `Correction passes: ${count}`,
  price: (before: string, after: string) => (before === after ? `Price stays ${after}` : `Price ${before} → ${after}`),
  ready: (at: string, kept: boolean) => `Ready ${at}; the promise ${kept ? 'holds' : 'does not hold'}.`,
  noRoom: 'The larger scope does not fit the book.',
  askBy: (at: string) => `Ask the customer by ${at}; without an answer the scope booked runs.`,
  lead: (panel: string) => `${panel}: no figure can judge it; the lead decides.`,
};
