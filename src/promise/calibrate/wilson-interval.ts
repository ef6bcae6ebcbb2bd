import { normalQuantile } from '../spread/standard-normal.ts';

export interface ShareInterval {
  readonly from: number;
  readonly to: number;
}

/**
 * Interval for a share that was observed: E. B. Wilson, "Probable inference, the law of succession, and statistical
 * inference", JASA 22 (1927), without continuity correction.
 *
 * @param confidence two-sided, more than 0 and less than 1.
 * @throws RangeError naming the argument that is out of range.
 */
export function wilsonInterval(happened: number, trials: number, confidence = 0.95): ShareInterval {
  if (!(trials > 0)) throw new RangeError(`trials is ${trials}, must be more than 0`);
  if (!(happened >= 0 && happened <= trials)) throw new RangeError(`happened is ${happened}, must be 0 to ${trials}`);
  if (!(confidence > 0 && confidence < 1))
    throw new RangeError(`confidence is ${confidence}, must lie between 0 and 1`);
  const z = normalQuantile((1 + confidence) / 2);
  const share = happened / trials;
  const centre = share + z ** 2 / (2 * trials);
  const half = z * Math.sqrt((share * (1 - share)) / trials + z ** 2 / (4 * trials ** 2));
  const scale = 1 + z ** 2 / trials;
  return { from: Math.max(0, (centre - half) / scale), to: Math.min(1, (centre + half) / scale) };
}
