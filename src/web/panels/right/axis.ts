/** Round steps of an axis: 1, 2 or 5 times a power of ten, about so many. */
export const ticksOf = (low: number, high: number, about: number): number[] => {
  const rough = (high - low) / about;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = power * (rough / power >= 5 ? 5 : rough / power >= 2 ? 2 : 1);
  const ticks: number[] = [];
  for (let v = Math.ceil(low / step - 1e-9) * step; v <= high + 1e-9 * step; v += step)
    ticks.push(Number(v.toPrecision(9)));
  return ticks;
};
