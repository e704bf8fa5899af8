/** P(x) = c0 + c1 x + ... */
const polynomial = (x: number, c: readonly number[]): number => c.reduceRight((sum, k) => sum * x + k, 0);

/**
 * The standard normal quantile of p in (0, 1), to about seven figures: M. J. Wichura, algorithm AS 241 (PPND7), Appl.
 * Statist. 37 (1988) 477-484.
 */
export const normalQuantile = (p: number): number => {
  const q = p - 0.5;
  if (Math.abs(q) <= 0.425) {
    const r = 0.180625 - q * q;
    return (
      (q * polynomial(r, [3.3871327179, 50.434271938, 159.29113202, 59.10937472])) /
      polynomial(r, [1, 17.895169469, 78.757757664, 67.1875636])
    );
  }
  const r = Math.sqrt(-Math.log(q < 0 ? p : 1 - p));
  const tail =
    r <= 5
      ? polynomial(r - 1.6, [1.4234372777, 2.75681539, 1.3067284816, 0.17023821103]) /
        polynomial(r - 1.6, [1, 0.7370016425, 0.12021132975])
      : polynomial(r - 5, [6.657905115, 3.081226386, 0.42868294337, 0.017337203997]) /
        polynomial(r - 5, [1, 0.24197894225, 0.012258202635]);
  return q < 0 ? -tail : tail;
};

/** Chance that a standard normal is below z, to 1.5e-7 (M. Abramowitz, I. A. Stegun, Handbook (1964), 7.1.26). */
export const normalBelow = (z: number): number => {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const poly =
    t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const upper = 0.5 * poly * Math.exp(-x * x);
  return z > 0 ? 1 - upper : upper;
};

/**
 * A quantile of a sample, the i-th of n in order standing for the share (i - ½)/n, linear between (A. Hazen, Trans.
 * ASCE 77 (1914) 1539); the ends beyond the outermost.
 */
export const quantileOf = (values: readonly number[], share: number): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const at = Math.min(sorted.length - 1, Math.max(0, share * sorted.length - 0.5));
  const below = Math.floor(at);
  const above = Math.min(sorted.length - 1, below + 1);
  return at === below ? sorted[below] : sorted[below] + (at - below) * (sorted[above] - sorted[below]);
};
