/** Index i of the stretch [x_i, x_i+1] that holds `at`, first or last when outside; `rising` sorted, length ≥ 2. */
export const stretchAt = (rising: Float64Array, at: number): number => {
  let low = 0;
  let high = rising.length - 1;
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if (rising[mid] <= at) low = mid;
    else high = mid;
  }
  return low;
};

/** y at `at`, straight between the points (x rising); before the first and after the last it stays as there. */
export const valueAt = (x: Float64Array, y: Float64Array, at: number): number => {
  const last = x.length - 1;
  if (at <= x[0]) return y[0];
  if (at >= x[last]) return y[last];
  const i = stretchAt(x, at);
  return y[i] + ((at - x[i]) / (x[i + 1] - x[i] || 1)) * (y[i + 1] - y[i]);
};
