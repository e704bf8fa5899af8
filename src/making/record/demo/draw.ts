/** Numbers from 0 to 1, always the same ones for one seed (Numerical Recipes: the quick 32-bit generator). */
export interface Draw {
  readonly between: (low: number, high: number) => number;
  readonly whole: (low: number, high: number) => number;
  readonly chance: (share: number) => boolean;
  readonly oneOf: <T>(list: readonly T[]) => T;
}

export const drawFrom = (seed: number): Draw => {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state * 1664525 + 1013904223) % 4294967296;
    return state / 4294967296;
  };
  const between = (low: number, high: number): number => low + (high - low) * next();
  const whole = (low: number, high: number): number => Math.floor(between(low, high + 1));
  return {
    between,
    whole,
    chance: (share) => next() < share,
    oneOf: (list) => list[whole(0, list.length - 1)],
  };
};
