/** What is believed of a chance: a beta distribution. */
export interface LearnedChance {
  readonly probability: number;
  /** Standard deviation of the belief. */
  readonly deviation: number;
  readonly alpha: number;
  readonly beta: number;
}

/** The shop's stated chance weighs as much as this many cars. */
const STATED_WEIGHS_CARS = 20;

/**
 * Chance that a branch is taken (a final inspection fails, the test spot changes the scope): the shop's stated chance, then
 * more and more what was recorded. Beta prior, binomial counts (Gelman et al., "Bayesian Data Analysis", section 2.4).
 *
 * @param stated probability, 0 to 1.
 * @throws RangeError naming the argument that is out of range.
 */
export function learnedChance(
  stated: number,
  happened: number,
  cars: number,
  statedWeighsCars = STATED_WEIGHS_CARS,
): LearnedChance {
  if (!(stated >= 0 && stated <= 1)) throw new RangeError(`stated is ${stated}, must lie between 0 and 1`);
  if (!(happened >= 0 && happened <= cars)) throw new RangeError(`happened is ${happened}, must be 0 to ${cars} cars`);
  if (!(statedWeighsCars > 0)) throw new RangeError(`statedWeighsCars is ${statedWeighsCars}, must be more than 0`);
  const alpha = stated * statedWeighsCars + happened;
  const beta = (1 - stated) * statedWeighsCars + cars - happened;
  const total = alpha + beta;
  return {
    probability: alpha / total,
    deviation: Math.sqrt((alpha * beta) / (total ** 2 * (total + 1))),
    alpha,
    beta,
  };
}
