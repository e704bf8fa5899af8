/** From 0 to 1 as x goes from 0 to 1, level at both ends and beyond them. */
export const smooth = (x: number): number => {
  const t = Math.min(1, Math.max(0, x));
  return t * t * (3 - 2 * t);
};
