import type { LineOnWall } from './line-on-wall.ts';
import type { Polygon } from './outline.ts';
import { wayRound } from './relax.ts';

const TURN = 2 * Math.PI;

type Closed = Pick<Polygon, 'x' | 'y'>;

/** Whether piece i of one closed line meets piece j of another, that one shifted by `shift` in x. */
const pieceMeets = (a: Closed, i: number, b: Closed, j: number, shift: number): boolean => {
  const [i2, j2] = [(i + 1) % a.x.length, (j + 1) % b.x.length];
  const [ux, uy] = [a.x[i2] - a.x[i], a.y[i2] - a.y[i]];
  const [vx, vy] = [b.x[j2] - b.x[j], b.y[j2] - b.y[j]];
  const cross = ux * vy - uy * vx;
  if (cross === 0) return false;
  const [wx, wy] = [b.x[j] + shift - a.x[i], b.y[j] - a.y[i]];
  const s = (wx * vy - wy * vx) / cross;
  const t = (wx * uy - wy * ux) / cross;
  return s >= 0 && s <= 1 && t >= 0 && t <= 1;
};

/** Where a closed line crosses or touches itself. */
export const crossesItself = (line: Closed): { readonly x: number; readonly y: number } | undefined => {
  const n = line.x.length;
  for (let i = 0; i < n; i++) {
    const next = (i + 1) % n;
    const [low, high] = [Math.min(line.x[i], line.x[next]), Math.max(line.x[i], line.x[next])];
    for (let j = i + 2; j < n; j++) {
      if (i === 0 && j === n - 1) continue;
      const j2 = (j + 1) % n;
      if (Math.max(line.x[j], line.x[j2]) < low || Math.min(line.x[j], line.x[j2]) > high) continue;
      if (pieceMeets(line, i, line, j, 0)) return { x: line.x[i], y: line.y[i] };
    }
  }
  return undefined;
};

interface Box {
  readonly middle: number;
  readonly half: number;
  readonly low: number;
  readonly high: number;
}

const boxOf = ({ x, y }: Closed): Box => {
  let [left, right, low, high] = [x[0], x[0], y[0], y[0]];
  for (let i = 1; i < x.length; i++) {
    [left, right] = [Math.min(left, x[i]), Math.max(right, x[i])];
    [low, high] = [Math.min(low, y[i]), Math.max(high, y[i])];
  }
  return { middle: 0.5 * (left + right), half: 0.5 * (right - left), low, high };
};

const insideOf = ({ x, y }: Closed, px: number, py: number): boolean => {
  let inside = false;
  for (let i = 0, j = x.length - 1; i < x.length; j = i++)
    if (y[i] > py !== y[j] > py && px < ((x[i] - x[j]) * (py - y[j])) / (y[i] - y[j]) + x[j])
      inside = !inside;
  return inside;
};

const overlapping = (a: Closed, b: Closed, shift: number): boolean => {
  const box = boxOf(b);
  const [left, right] = [box.middle + shift - box.half, box.middle + shift + box.half];
  for (let i = 0; i < a.x.length; i++) {
    const next = (i + 1) % a.x.length;
    if (Math.max(a.y[i], a.y[next]) < box.low || Math.min(a.y[i], a.y[next]) > box.high) continue;
    if (Math.max(a.x[i], a.x[next]) < left || Math.min(a.x[i], a.x[next]) > right) continue;
    for (let j = 0; j < b.x.length; j++) if (pieceMeets(a, i, b, j, shift)) return true;
  }
  return insideOf(a, b.x[0] + shift, b.y[0]) || insideOf(b, a.x[0] - shift, a.y[0]);
};

/** Pairs of outlines on the unrolled wall that share wall; a number paired with itself meets itself round the piece. */
export const overlaps = (lines: readonly LineOnWall[]): [number, number][] => {
  const boxes = lines.map(boxOf);
  const order = boxes.map((_, i) => i).sort((a, b) => boxes[a].low - boxes[b].low);
  const out: [number, number][] = [];
  boxes.forEach((box, i) => {
    if (2 * box.half >= TURN) out.push([i, i]);
  });
  for (let k = 0; k < order.length; k++) {
    const i = order[k];
    for (let m = k + 1; m < order.length && boxes[order[m]].low <= boxes[i].high; m++) {
      const j = order[m];
      const apart = wayRound(boxes[i].middle, boxes[j].middle);
      if (Math.abs(apart) > boxes[i].half + boxes[j].half) continue;
      const shift = boxes[i].middle + apart - boxes[j].middle;
      if (overlapping(lines[i], lines[j], shift)) out.push(i < j ? [i, j] : [j, i]);
    }
  }
  return out;
};
