/** Numbers from 0 to 1, always the same ones (W. H. Press et al., Numerical Recipes: the quick 32-bit generator). */
export const dice = (seed: number) => {
  let state = seed >>> 0;
  return (low: number, high: number): number => {
    state = (state * 1664525 + 1013904223) % 4294967296;
    return low + ((high - low) * state) / 4294967296;
  };
};

export type Throw = ReturnType<typeof dice>;

export const whole = (between: Throw, low: number, high: number): number =>
  Math.min(high, Math.floor(between(low, high + 1)));

export const oneOf = <T>(between: Throw, list: readonly T[]): T =>
  list[Math.min(list.length - 1, Math.floor(between(0, list.length)))];

export const chance = (between: Throw, share: number): boolean => between(0, 1) < share;
