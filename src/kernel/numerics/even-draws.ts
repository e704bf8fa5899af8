/**
 * Points spread evenly over a unit cube, for a few costly trials: the Sobol sequence with the first direction
 * numbers of S. Joe and F. Y. Kuo, SIAM J. Sci. Comput. 30 (2008) 2635-2654. Every coordinate of the first 2^k points
 * falls once into each of 2^k equal cells, so even 16 trials have the right spread in each direction.
 */

/** Degree, coefficients and first m of each dimension's polynomial after the first, which is van der Corput's. */
const POLYNOMIALS: readonly (readonly [degree: number, coefficients: number, first: readonly number[]])[] = [
  [1, 0, [1]],
  [2, 1, [1, 3]],
  [3, 1, [1, 3, 1]],
  [3, 2, [1, 1, 1]],
  [4, 1, [1, 1, 3, 3]],
];
export const MOST_DIMENSIONS = POLYNOMIALS.length + 1;

/** The first `bits` direction numbers of a dimension, each as a number of `bits` bits. */
const directions = (dimension: number, bits: number): number[] => {
  if (dimension === 0) return Array.from({ length: bits }, (_, i) => 1 << (bits - 1 - i));
  const [degree, coefficients, first] = POLYNOMIALS[dimension - 1];
  const m: number[] = [];
  for (let i = 0; i < bits; i++) {
    if (i < degree) {
      m.push(first[i]);
      continue;
    }
    let next = m[i - degree] ^ (m[i - degree] << degree);
    for (let k = 1; k < degree; k++) if ((coefficients >> (degree - 1 - k)) & 1) next ^= m[i - k] << k;
    m.push(next);
  }
  return m.map((value, i) => value << (bits - 1 - i));
};

/** A small generator for the shift alone (Lehmer's, modulus 2^31 - 1, multiplier 48271 of Park and Miller 1993). */
const lehmer = (seed: number): (() => number) => {
  let state = (Math.abs(Math.trunc(seed)) % 2147483646) + 1;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
};

/**
 * `2^bits` points in the open unit cube, each coordinate in the middle of its cell; which cells meet is shifted by the
 * seed. The same arguments give the same points.
 * @param dimensions 1 to MOST_DIMENSIONS
 */
export const evenDraws = (bits: number, dimensions: number, seed: number): number[][] => {
  const count = 1 << bits;
  const chance = lehmer(seed);
  const columns = Array.from({ length: dimensions }, (_, d) => {
    const v = directions(d, bits);
    const shift = Math.floor(chance() * count);
    return Array.from({ length: count }, (_, i) => {
      let cell = shift;
      for (let b = 0; b < bits; b++) if ((i >> b) & 1) cell ^= v[b];
      return (cell + 0.5) / count;
    });
  });
  return Array.from({ length: count }, (_, i) => columns.map((column) => column[i]));
};
