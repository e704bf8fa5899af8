import type { FormMesh } from '../../../making/form/mesh-form.ts';

/** Colours of a difference: outside the wanted surface the accent, inside the colour of shade, on it paper. */
const PAPER = [253, 249, 241] as const;
const OUTSIDE = [178, 58, 30] as const;
const INSIDE = [52, 98, 110] as const;
const LIES = [222, 212, 195] as const;

type Colour = readonly [number, number, number];

/** @param share -1 (inside by the most) to 1 (outside by the most) */
export const differenceColour = (share: number): Colour => {
  const to = share > 0 ? OUTSIDE : INSIDE;
  const t = Math.min(1, Math.abs(share));
  return [0, 1, 2].map((k) => Math.round(PAPER[k]! + t * (to[k]! - PAPER[k]!))) as unknown as Colour;
};

/** The next of 1, 2, 5, 10, 20 ... at or above, with a tenth of slack. */
export const roundAbove = (x: number): number => {
  if (!(x > 0)) return 1;
  const ten = 10 ** Math.floor(Math.log10(x));
  return ([1, 2, 5, 10].find((k) => k * ten >= x * 0.999) ?? 10) * ten;
};

const TURN = 2 * Math.PI;

interface Flat {
  /** Share of the way round, and up. */
  readonly x: number;
  readonly y: number;
  readonly value: number;
  readonly lies: boolean;
}

const paint = (
  out: Uint8ClampedArray,
  wide: number,
  high: number,
  most: number,
  corners: readonly Flat[],
): void => {
  const [a, b, c] = corners as [Flat, Flat, Flat];
  const area = (b.x - a.x) * (c.y - a.y) - (c.x - a.x) * (b.y - a.y);
  if (Math.abs(area) < 1e-12) return;
  const xs = corners.map((p) => p.x * wide);
  const ys = corners.map((p) => (1 - p.y) * high);
  const [left, right] = [Math.floor(Math.min(...xs)), Math.ceil(Math.max(...xs))];
  const [top, bottom] = [
    Math.max(0, Math.floor(Math.min(...ys))),
    Math.min(high - 1, Math.ceil(Math.max(...ys))),
  ];
  for (let j = top; j <= bottom; j++)
    for (let i = left; i <= right; i++) {
      const [x, y] = [(i + 0.5) / wide, 1 - (j + 0.5) / high];
      const u = ((x - a.x) * (c.y - a.y) - (c.x - a.x) * (y - a.y)) / area;
      const v = ((b.x - a.x) * (y - a.y) - (x - a.x) * (b.y - a.y)) / area;
      if (u < -0.01 || v < -0.01 || u + v > 1.01) continue;
      const value = a.value + u * (b.value - a.value) + v * (c.value - a.value);
      const lies = corners.some((p) => p.lies);
      const colour = lies || Number.isNaN(value) ? LIES : differenceColour(value / most);
      const at = 4 * (j * wide + (((i % wide) + wide) % wide));
      out.set([...colour, 255], at);
    }
};

/** The middle of the floor has no angle of its own: there the triangle is drawn out to a strip. */
const stripped = (corners: readonly Flat[]): readonly (readonly Flat[])[] => {
  const middle = corners.find((p) => p.y === 0);
  const rim = corners.filter((p) => p !== middle);
  if (!middle || rim.length !== 2) return [corners];
  const [p, q] = rim as unknown as readonly [Flat, Flat];
  const [under, beside] = [
    { ...middle, x: p.x },
    { ...middle, x: q.x },
  ];
  return [
    [p, q, under],
    [q, under, beside],
  ];
};

/**
 * The wall rolled out: once round from left to right, foot to lip from below. A value a node.
 * @returns RGBA, high x wide; what no wall covers stays clear
 */
export const rolledOut = (
  mesh: Pick<FormMesh, 'triangles' | 'along' | 'angle_rad' | 'open'>,
  values: ArrayLike<number>,
  lies: ArrayLike<number>,
  size: { readonly wide: number; readonly high: number; readonly most: number },
): Uint8ClampedArray => {
  const { wide, high, most } = size;
  const out = new Uint8ClampedArray(4 * wide * high);
  const { triangles, along, angle_rad, open } = mesh;
  for (let t = 0; t < triangles.length; t += 3) {
    const nodes = [0, 1, 2].map((k) => triangles[t + k]!);
    const first = nodes.find((n) => along[n]! > 0) ?? nodes[0]!;
    const corners = nodes.map((n): Flat => {
      // A triangle over the seam is kept in one piece.
      const angle = angle_rad[n]! - TURN * Math.round((angle_rad[n]! - angle_rad[first]!) / TURN);
      return { x: angle / TURN, y: along[n]!, value: values[n]!, lies: lies[n] === 1 };
    });
    for (const part of open ? [corners] : stripped(corners)) paint(out, wide, high, most, part);
  }
  return out;
};
