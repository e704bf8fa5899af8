import type { CutLine } from '../../kernel/mesh/cut.ts';

/** Walls in a cut through the axis, as closed outlines for a drawing: across and up, m. */
export type Corner = readonly [across: number, up: number];
export type Cut = Pick<CutLine, 'points' | 'half' | 'closed'>;

interface Run {
  readonly mid: readonly Corner[];
  readonly half: readonly Corner[];
}

const runOf = ({ points, half, closed }: Cut): Run => {
  const at = (list: Float64Array): Corner[] =>
    Array.from({ length: list.length / 3 }, (_, i) => [list[3 * i]!, list[3 * i + 2]!] as const);
  const [mid, halves] = [at(points), at(half)];
  return closed ? { mid: [...mid, mid[0]!], half: [...halves, halves[0]!] } : { mid, half: halves };
};

const wall = ({ mid, half }: Run): Corner[] => {
  const side = (sign: number): Corner[] =>
    mid.map(([x, z], i) => [x + sign * half[i]![0], z + sign * half[i]![1]]);
  return [...side(1), ...side(-1).reverse()];
};

/** The wall itself, outer face there and inner face back. */
export const wallsOf = (lines: readonly Cut[]): Corner[][] => lines.map((line) => wall(runOf(line)));

const mix = (a: Corner, b: Corner, t: number): Corner => [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
const apart = (a: Corner, b: Corner): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** The same run with so many points, evenly along it. */
const evenly = ({ mid, half }: Run, count: number): Run => {
  const along = [0];
  for (let i = 1; i < mid.length; i++) along.push(along[i - 1]! + apart(mid[i]!, mid[i - 1]!));
  const total = along.at(-1)!;
  let i = 0;
  const places = Array.from({ length: count }, (_, k) => {
    const want = (total * k) / (count - 1);
    while (i < mid.length - 2 && along[i + 1]! < want) i++;
    const step = along[i + 1]! - along[i]!;
    return [i, step > 0 ? Math.min(1, (want - along[i]!) / step) : 0] as const;
  });
  const pick = (list: readonly Corner[]): Corner[] =>
    places.map(([at, t]) => mix(list[at]!, list[Math.min(at + 1, list.length - 1)]!, t));
  return { mid: pick(mid), half: pick(half) };
};

const POINTS = 90;
const MOST_STEPS = 40;
/** Walls are laid this part of their thickness apart, so that together they leave no gap. */
const OVERLAP = 0.6;

const between = (a: Run, b: Run, t: number): Run => ({
  mid: a.mid.map((p, i) => mix(p, b.mid[i]!, t)),
  half: a.half.map((p, i) => mix(p, b.half[i]!, t)),
});

/** The same run the other way round where that lies nearer to the first. */
const sameWay = (a: Run, b: Run): Run => {
  const [first, last] = [b.mid[0]!, b.mid.at(-1)!];
  const straight = apart(a.mid[0]!, first) + apart(a.mid.at(-1)!, last);
  const crossed = apart(a.mid[0]!, last) + apart(a.mid.at(-1)!, first);
  if (straight <= crossed) return b;
  // Turned round, its outer side would be its inner one.
  return { mid: [...b.mid].reverse(), half: [...b.half].reverse() };
};

/**
 * Everything a wall may lie in between two ends of a band, as walls close enough to overlap.
 * @returns only the two ends where they are not cut into the same runs
 */
export const bandWalls = (stiff: readonly Cut[], soft: readonly Cut[]): Corner[][] => {
  if (stiff.length !== soft.length) return [...wallsOf(stiff), ...wallsOf(soft)];
  return stiff.flatMap((line, k) => {
    const one = runOf(line);
    const [a, b] = [evenly(one, POINTS), evenly(sameWay(one, runOf(soft[k]!)), POINTS)];
    const moved = Math.max(...a.mid.map((p, i) => apart(p, b.mid[i]!)));
    const thin = Math.min(...a.half.map((p) => Math.hypot(...p))) || moved;
    const steps = Math.min(MOST_STEPS, Math.max(1, Math.ceil(moved / (OVERLAP * 2 * thin))));
    return Array.from({ length: steps + 1 }, (_, i) => wall(between(a, b, i / steps)));
  });
};
