import { selfCrossing } from './crossing.ts';
import type { Form } from './form-shape.ts';
import { type OuterLine, outerLine } from './line.ts';
import { smooth } from './smooth.ts';
import { type Start, type UnevenWall, unevenWall } from './uneven/uneven-wall.ts';

/**
 * The un-altered piece as its mid line, from the middle of the floor (or the lower edge of a tube) to the lip.
 * Finely sampled; lengths in mm.
 */
export interface Section {
  readonly radius: Float64Array;
  readonly height: Float64Array;
  /** Arc length from the start. */
  readonly length: Float64Array;
  readonly thickness: Float64Array;
  /** Share of the OUTER line; on floor and ring that at which the wall begins. */
  readonly along: Float64Array;
  /** Direction alterations push in, [radial, up]. */
  readonly outRadial: Float64Array;
  readonly outUp: Float64Array;
  /** Arc lengths of corners, which want a ring of nodes of their own. */
  readonly corners: readonly number[];
  /** Arc length at which the wall begins. */
  readonly wallFrom: number;
  /** Arc length of the ring it stands on when upright. */
  readonly stands: number;
  readonly hasFloor: boolean;
  readonly outer: OuterLine;
  /** Shares of the line over which the wall leaves the floor: from there on it may be uneven. */
  readonly start: Start;
  /** How the wall really is at an angle; left out where it is as drawn all round. */
  readonly uneven?: UnevenWall | undefined;
}

type Row = readonly [radius: number, height: number, thickness: number];

/** Above this share of the line alterations push at right angles to the wall; at the foot they push level. */
const LEVEL_UNTIL = 0.1;

const straight = (from: Row, to: Row, pieces: number): Row[] =>
  Array.from({ length: pieces }, (_, k) => {
    const s = k / pieces;
    return [0, 1, 2].map((c) => from[c] + s * (to[c] - from[c])) as unknown as Row;
  });

interface WallPart {
  readonly rows: Row[];
  readonly along: number[];
  readonly normals: (readonly [number, number])[];
}

/** The wall's mid line from where it first reaches a height. */
const wallAbove = (o: OuterLine, height: number): WallPart => {
  const part: WallPart = { rows: [], along: [], normals: [] };
  const mid = (i: number): Row => [
    o.radius[i] - 0.5 * o.thickness[i] * o.normalRadial[i],
    o.height[i] - 0.5 * o.thickness[i] * o.normalUp[i],
    o.thickness[i],
  ];
  const add = (row: Row, along: number, i: number): void => {
    part.rows.push(row);
    part.along.push(along);
    part.normals.push([o.normalRadial[i], o.normalUp[i]]);
  };
  for (let i = 0; i < o.radius.length; i++) {
    const here = mid(i);
    if (part.rows.length === 0 && height > Number.NEGATIVE_INFINITY) {
      if (here[1] < height) continue;
      const before = i > 0 ? mid(i - 1) : here;
      const s = here[1] > before[1] ? (height - before[1]) / (here[1] - before[1]) : 1;
      const mix = (a: number, b: number): number => a + s * (b - a);
      add(
        [mix(before[0], here[0]), height, mix(before[2], here[2])],
        i > 0 ? mix(o.along[i - 1], o.along[i]) : 0,
        i,
      );
      if (s > 0.9 && here[1] - height < 0.1) continue;
    }
    add(here, o.along[i], i);
  }
  return part;
};

/**
 * Legs of a foot ring: the mid line goes down from the floor to the middle of the ring and up again to the wall,
 * one line without branches. The legs are as thick as it takes to carry the clay of ring and floor edge,
 * and stand on the shelf with their skin. Thickness and height of the turning point follow from one another.
 */
const ringLegs = (
  foot: { width_mm: number; recess_mm: number; thickness_mm: number },
  o: OuterLine,
  wall: Row,
) => {
  const edge = o.radius[0];
  const floor: Row = [edge - foot.width_mm, foot.recess_mm + foot.thickness_mm / 2, foot.thickness_mm];
  const flare =
    o.radius[
      Math.max(
        0,
        o.height.findIndex((h) => h >= foot.recess_mm),
      )
    ] - edge;
  const clay =
    Math.max(0, wall[0] - floor[0]) * foot.thickness_mm + (foot.width_mm + flare / 2) * foot.recess_mm;
  const middle = edge - foot.width_mm / 2;
  let thickness = foot.thickness_mm;
  for (let i = 0; i < 40; i++) {
    const low = Math.min(thickness / 2, 0.8 * floor[1]);
    const legs = Math.hypot(middle - floor[0], floor[1] - low) + Math.hypot(wall[0] - middle, wall[1] - low);
    thickness = 0.5 * thickness + (0.5 * clay) / legs;
  }
  return { floor, low: [middle, Math.min(thickness / 2, 0.8 * floor[1]), thickness] as Row };
};

/** A mid line set off inwards loops at a sharp corner of the outside; the loop is cut off where it crosses. */
const LONGEST_LOOP = 3;

const cutLoops = (part: WallPart): WallPart => {
  const [x, y] = [part.rows.map((row) => row[0]), part.rows.map((row) => row[1])];
  for (let start = 0; ; ) {
    const at = selfCrossing(x, y, start);
    if (!at) return part;
    let way = 0;
    for (let i = at.first; i <= at.second; i++) way += Math.hypot(x[i + 1] - x[i], y[i + 1] - y[i]);
    start = at.first + 1;
    if (way > LONGEST_LOOP * part.rows[at.first][2]) continue;
    const gone = at.second - at.first;
    const middle = (at.first + at.second + 1) >> 1;
    part.rows.splice(at.first + 1, gone, [at.x, at.y, part.rows[middle][2]]);
    part.along.splice(at.first + 1, gone, part.along[middle]);
    part.normals.splice(at.first + 1, gone, part.normals[middle]);
    x.splice(at.first + 1, gone, at.x);
    y.splice(at.first + 1, gone, at.y);
  }
};

/** Rows of floor and ring in order, and how many rows each stretch has (its ends are corners). */
const footRows = (form: Form, o: OuterLine, wall: Row): { rows: Row[]; stretches: number[] } => {
  const { foot } = form;
  if (foot.kind === 'none') return { rows: [], stretches: [] };
  if (foot.kind === 'disc') {
    const t = foot.thickness_mm;
    return { rows: straight([0, t / 2, t], [wall[0], t / 2, t], 40), stretches: [40] };
  }
  const { floor, low } = ringLegs(foot, o, wall);
  const leg = (row: Row): Row => [row[0], row[1], low[2]];
  const rows = [
    ...straight([0, floor[1], floor[2]], floor, 40),
    ...straight(leg(floor), low, 8),
    ...straight(low, leg(wall), 8),
  ];
  return { rows, stretches: [40, 8, 8] };
};

/** The height (mm) at which floor and wall mid lines meet. */
const meetingHeight = (form: Form): number => {
  if (form.foot.kind === 'none') return Number.NEGATIVE_INFINITY;
  return form.foot.thickness_mm / 2 + (form.foot.kind === 'ring' ? form.foot.recess_mm : 0);
};

/** The mid line of a form, mm. Empty wall (line never rises above the floor) gives a section of the floor alone. */
export const formSection = (form: Form): Section => {
  const o = outerLine(form);
  const wall = cutLoops(wallAbove(o, meetingHeight(form)));
  const foot = footRows(form, o, wall.rows[0] ?? [o.radius[0], 0, o.thickness[0]]);
  const rows = [...foot.rows, ...wall.rows];
  const edge = wall.rows[0]?.[0] ?? o.radius[0];
  const length = new Float64Array(rows.length);
  for (let i = 1; i < rows.length; i++)
    length[i] = length[i - 1] + Math.hypot(rows[i][0] - rows[i - 1][0], rows[i][1] - rows[i - 1][1]);
  const onFoot = foot.rows.length;
  let at = 0;
  const cornerRows = foot.stretches.map((n) => (at += n));
  const thickness = Float64Array.from(rows, (row) => row[2]);
  // A corner belongs to both its sides; half of each keeps the clay of the two.
  for (const i of cornerRows) thickness[i] = 0.5 * (rows[i - 1][2] + (rows[i + 1] ?? rows[i])[2]);
  const out = rows.map(([radius], i): readonly [number, number] => {
    if (i < onFoot) return [Math.min(1, (radius / edge) ** 2), 0];
    const along = wall.along[i - onFoot];
    const [nr, nz] = wall.normals[i - onFoot];
    const share = smooth(along / LEVEL_UNTIL);
    return [1 + share * (nr - 1), share * nz];
  });
  const start: Start =
    form.foot.kind === 'none'
      ? { from: 0, over: 0 }
      : { from: wall.along[0] ?? 1, over: form.foot.thickness_mm / o.length[o.length.length - 1] };
  return {
    radius: Float64Array.from(rows, (row) => row[0]),
    height: Float64Array.from(rows, (row) => row[1]),
    length,
    thickness,
    along: Float64Array.from(rows, (_, i) => wall.along[Math.max(0, i - onFoot)] ?? 0),
    outRadial: Float64Array.from(out, (d) => d[0]),
    outUp: Float64Array.from(out, (d) => d[1]),
    corners: cornerRows.map((i) => length[i]),
    wallFrom: length[onFoot] ?? length[length.length - 1],
    // Edge of the disc, bottom of the ring, lower edge of a tube.
    stands: form.foot.kind === 'none' ? 0 : length[cornerRows[form.foot.kind === 'ring' ? 1 : 0]],
    hasFloor: onFoot > 0,
    outer: o,
    start,
    uneven: unevenWall(form.uneven, o, start),
  };
};
