/** Points of an arc about (across, up), both ends included. */
export const arc = (
  across: number,
  up: number,
  radius: number,
  from: number,
  to: number,
  pieces = 4,
): (readonly [number, number])[] =>
  Array.from({ length: pieces + 1 }, (_, i) => {
    const angle = from + ((to - from) * i) / pieces;
    return [across + radius * Math.cos(angle), up + radius * Math.sin(angle)] as const;
  });
