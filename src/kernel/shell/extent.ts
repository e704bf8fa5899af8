/** Greatest width along one of the axes, m. */
export const extentOf = (p: Float64Array): number => {
  let most = 0;
  for (let c = 0; c < 3; c++) {
    let lo = Number.POSITIVE_INFINITY;
    let hi = Number.NEGATIVE_INFINITY;
    for (let i = c; i < p.length; i += 3) {
      lo = Math.min(lo, p[i]);
      hi = Math.max(hi, p[i]);
    }
    most = Math.max(most, hi - lo);
  }
  return most;
};

/** Greatest speed of 6 × nodes rates, m/s. */
export const greatestSpeed = (rates: Float64Array): number => {
  let most = 0;
  for (let i = 0; i < rates.length; i += 6)
    most = Math.max(most, rates[i] ** 2 + rates[i + 1] ** 2 + rates[i + 2] ** 2);
  return Math.sqrt(most);
};
