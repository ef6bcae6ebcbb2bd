declare module 'jstat' {
  /** jStat, a general statistics library: https://jstat.github.io */
  const jStat: {
    readonly normal: {
      cdf(x: number, mean: number, deviation: number): number;
      inv(p: number, mean: number, deviation: number): number;
    };
    readonly lognormal: {
      cdf(x: number, mu: number, sigma: number): number;
      inv(p: number, mu: number, sigma: number): number;
      mean(mu: number, sigma: number): number;
      median(mu: number, sigma: number): number;
      variance(mu: number, sigma: number): number;
    };
    readonly beta: { mean(alpha: number, beta: number): number; variance(alpha: number, beta: number): number };
    readonly chisquare: { inv(p: number, freedom: number): number; cdf(x: number, freedom: number): number };
    readonly studentt: { inv(p: number, freedom: number): number };
    mean(values: readonly number[]): number;
    /** Of a sample, with n - 1, when `sample` says so. */
    stdev(values: readonly number[], sample?: boolean): number;
    inv(matrix: number[][]): number[][];
  };
  export default jStat;
}
