import svgPath from 'svgpath';
import type { Outline } from './carving-shape.ts';
import { motifPath } from './motifs.ts';

/** A closed outline as a polygon about the middle of its box, mm, y up, counter-clockwise; the last corner joins the first. */
export interface Polygon {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

export interface ReadOutline {
  readonly polygons: readonly Polygon[];
  /** Why it is no closed outline, in words; then the polygons are as far as it could be read. */
  readonly fault?: string;
}

type Point = readonly [number, number];

/** Curves become chords this far (share of the outline's size) from them at the most. */
const CHORD = 0.0005;
/** Two ends nearer than this share of the size are meant to meet. */
const MEETS = 1e-6;

/** Chords of a Bézier curve of second or third degree, its start left out. */
const chords = (p: readonly Point[], off: number): Point[] => {
  let bend = 0;
  for (let i = 0; i + 2 < p.length; i++)
    bend = Math.max(
      bend,
      Math.hypot(p[i][0] - 2 * p[i + 1][0] + p[i + 2][0], p[i][1] - 2 * p[i + 1][1] + p[i + 2][1]),
    );
  // Chord error of a curve is at most |second derivative| / 8 over the square of the number of pieces.
  const degree = p.length - 1;
  const n = Math.min(64, Math.max(1, Math.ceil(Math.sqrt((degree * (degree - 1) * bend) / (8 * off)))));
  return Array.from({ length: n }, (_, k) => {
    const t = (k + 1) / n;
    let row = p;
    while (row.length > 1)
      row = row
        .slice(1)
        .map((b, i) => [row[i][0] + t * (b[0] - row[i][0]), row[i][1] + t * (b[1] - row[i][1])] as const);
    return row[0];
  });
};

interface Trace {
  readonly points: Point[];
  closed: boolean;
}

type Step = readonly [string, ...number[]];

/** Absolute steps of a path: only M L H V C Q Z are left once shorthand and arcs are written out. */
const stepsOf = (path: string): { steps: Step[]; fault?: string } => {
  const read = svgPath(path).abs().unshort().unarc();
  const steps: Step[] = [];
  read.iterate((step) => {
    steps.push(step as unknown as Step);
  });
  const fault = (read as unknown as { err: string }).err;
  return fault ? { steps, fault: `path data: ${fault.replace(/^SvgPath: /, '')}` } : { steps };
};

const sizeOf = (steps: readonly Step[]): number => {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const [, ...numbers] of steps)
    for (const x of numbers) [low, high] = [Math.min(low, x), Math.max(high, x)];
  return high - low || 1;
};

const tracesOf = (steps: readonly Step[]): Trace[] => {
  const off = CHORD * sizeOf(steps);
  const traces: Trace[] = [];
  let at: Point = [0, 0];
  for (const [letter, ...n] of steps) {
    if (letter === 'M') {
      at = [n[0], n[1]];
      traces.push({ points: [at], closed: false });
      continue;
    }
    let trace = traces[traces.length - 1];
    if (letter === 'Z') {
      trace.closed = true;
      at = trace.points[0];
      continue;
    }
    // After a Z without an M the next outline starts where the last one did.
    if (trace.closed) {
      trace = { points: [at], closed: false };
      traces.push(trace);
    }
    if (letter === 'H') trace.points.push([n[0], at[1]]);
    else if (letter === 'V') trace.points.push([at[0], n[0]]);
    else {
      const ends: Point[] = [at];
      for (let i = 0; i < n.length; i += 2) ends.push([n[i], n[i + 1]]);
      trace.points.push(...(ends.length === 2 ? [ends[1]] : chords(ends, off)));
    }
    at = trace.points[trace.points.length - 1];
  }
  return traces.filter((trace) => trace.points.length > 1);
};

/** The trace without doubled points; whether it is closed, by Z or by ending where it began. */
const tidied = ({ points, closed }: Trace, near: number): Trace => {
  const same = (a: Point, b: Point): boolean => Math.hypot(a[0] - b[0], a[1] - b[1]) <= near;
  const kept = points.filter((p, i) => i === 0 || !same(p, points[i - 1]));
  const meets = kept.length > 2 && same(kept[0], kept[kept.length - 1]);
  if (meets) kept.pop();
  return { points: kept, closed: closed || meets };
};

/** Twice the area, positive when counter-clockwise with y up. */
export const twiceArea = ({ x, y }: Polygon): number => {
  let sum = 0;
  for (let i = 0; i < x.length; i++) {
    const j = (i + 1) % x.length;
    sum += x[i] * y[j] - x[j] * y[i];
  }
  return sum;
};

const scaled = (traces: readonly Trace[], width: number, height: number, turn: number): Polygon[] => {
  const [low, high] = [Math.min, Math.max].map((f) =>
    [0, 1].map((c) => traces.flatMap((t) => t.points).reduce((a, p) => f(a, p[c]), traces[0].points[0][c])),
  );
  const scale = [width / (high[0] - low[0]), height / (high[1] - low[1])];
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  return traces.map(({ points }) => {
    const place = points.map((p) => {
      const x = (p[0] - 0.5 * (low[0] + high[0])) * scale[0];
      const y = -(p[1] - 0.5 * (low[1] + high[1])) * scale[1];
      return [cos * x - sin * y, sin * x + cos * y] as const;
    });
    const polygon = { x: Float64Array.from(place, (p) => p[0]), y: Float64Array.from(place, (p) => p[1]) };
    if (twiceArea(polygon) >= 0) return polygon;
    return { x: polygon.x.reverse(), y: polygon.y.reverse() };
  });
};

/**
 * Reads an outline, scales the box round it to width × height (mm) and turns it (rad, left as seen from outside).
 * Path data by SVG 2, chapter 9 (W3C).
 */
export const readOutline = (
  outline: Outline,
  width: number,
  height: number,
  turn_rad: number,
): ReadOutline => {
  const path = 'motif' in outline ? motifPath(outline.motif, width, height) : outline.path;
  const { steps, fault } = stepsOf(path);
  if (fault) return { polygons: [], fault };
  const near = MEETS * sizeOf(steps);
  const traces = tracesOf(steps).map((trace) => tidied(trace, near));
  if (traces.length === 0) return { polygons: [], fault: 'it draws no line' };
  const flat = [0, 1].some((c) => {
    const values = traces.flatMap((t) => t.points.map((p) => p[c]));
    return Math.max(...values) - Math.min(...values) <= near;
  });
  if (flat || traces.some((t) => t.points.length < 3)) return { polygons: [], fault: 'it encloses nothing' };
  const polygons = scaled(traces, width, height, turn_rad);
  const open = traces.findIndex((t) => !t.closed);
  return open < 0
    ? { polygons }
    : { polygons, fault: `outline ${open + 1} of the path is open: it does not end where it began` };
};
