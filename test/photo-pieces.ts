import type { Point } from '../src/making/photo/homography.ts';
import type { Picture } from '../src/making/photo/picture.ts';
import type { Ring } from '../src/making/photo/ring.ts';
import { SCALE_CARDS, type ScaleCard } from '../src/making/photo/scale-card.ts';
import { dice, oneOf, type Throw } from './dice.ts';
import { cardAt, cloth, type Eye, eyeAt, type Met, photograph, shade, shadow } from './photo-scenes.ts';

export interface Shot {
  readonly picture: Picture;
  readonly eye: Eye;
  readonly card: ScaleCard;
  /** The exact outline in the plane, anticlockwise, m. */
  readonly truth: Ring;
  readonly what: string;
}

/** Half width over height of a made-up piece, both from 0 to 1; smooth between foot and lip. */
type Half = (s: number) => number;
const HALVES: readonly (readonly [string, Half])[] = [
  ['bowl', (s) => 0.45 + 0.55 * s ** 0.5],
  ['beaker', (s) => 0.85 + 0.15 * s * s],
  ['vase', (s) => 0.55 + 0.45 * Math.sin(Math.PI * (0.12 + 0.8 * s)) ** 2],
  [
    'bottle',
    (s) =>
      s < 0.6
        ? 0.5 + 0.5 * Math.sin((Math.PI * s) / 0.6) ** 1.5
        : 0.5 - 0.15 * Math.sin((Math.PI * (s - 0.6)) / 0.8),
  ],
];

/** The plane's outline of a half width, tilted and swayed as a fired piece is. */
const outlineOf = (half: Half, wide: number, high: number, x0: number, sway: number): Ring => {
  const n = 400;
  const points: Point[] = [];
  for (let i = 0; i <= n; i++) points.push([x0 + wide * half(i / n) + sway * (i / n) ** 2, (high * i) / n]);
  for (let i = n; i >= 0; i--) points.push([x0 - wide * half(i / n) + sway * (i / n) ** 2, (high * i) / n]);
  return Float64Array.from(points.flat());
};

interface Light {
  readonly white: readonly [number, number];
  readonly cloth: readonly [number, number];
}
const LIGHTS: readonly Light[] = [
  { white: [0.6, 0.9], cloth: [0.02, 0.1] },
  { white: [0.6, 0.9], cloth: [0.02, 0.1] },
  { white: [0.65, 0.9], cloth: [0.08, 0.14] },
  { white: [0.12, 0.25], cloth: [0.75, 0.9] },
];

interface Size {
  readonly pxPerMm: number;
  readonly width_mm: number;
  readonly height_mm: number;
  readonly bend?: number;
}
const SIZE: Size = { pxPerMm: 10, width_mm: 310, height_mm: 190 };

const camera = (between: Throw, size: Size, middle: Point, turn: number): Eye => {
  const far = between(0.9, 1.6);
  return eyeAt(
    [middle[0] + far * between(-turn, turn), middle[1] + far * between(-turn / 2, turn), far],
    middle,
    between(-0.03, 0.03),
    {
      f_px: far * size.pxPerMm * 1000,
      bend: size.bend,
      width: Math.round(size.width_mm * size.pxPerMm),
      height: Math.round(size.height_mm * size.pxPerMm),
    },
  );
};

/** A flat figure of porcelain in the card's plane, so that the outline is exact whatever the camera; `there` false: forgotten. */
export const flatShot = (seed: number, size: Size = SIZE, there = true): Shot => {
  const between = dice(1000 + seed);
  for (let k = 0; k < 5; k++) between(0, 1);
  const [name, half] = oneOf(between, HALVES);
  const [wide, high] = [between(0.03, 0.055), between(0.05, 0.125)];
  const [sway, x0] = [between(-0.006, 0.006), 0.212];
  const truth = outlineOf(half, wide, high, x0, sway);
  const light = oneOf(between, LIGHTS);
  const [behind, dark, round] = [
    cloth(between, light.cloth),
    shadow(between, x0, wide),
    shade(between, light.white),
  ];
  const card = SCALE_CARDS[0];
  const eye = camera(between, size, [0.127, 0.065], 0.3);
  const meet = (x: number, z: number): Met => {
    const onCard = cardAt(card, x, z);
    if (onCard) return onCard;
    const s = z / high;
    const t = s >= 0 && s <= 1 ? (x - x0 - sway * s * s) / (wide * half(s)) : 2;
    if (there && Math.abs(t) <= 1) return { thing: 1, light: round(t) };
    const d = dark(x, z);
    const [r, g, b] = behind(x, z);
    return { thing: 0, light: [r * d, g * d, b * d] };
  };
  return {
    picture: photograph(eye, meet, between(0.01, 0.03), between),
    eye,
    card,
    truth,
    what: `flat ${name}, ${light.cloth[0] > 0.5 ? 'bright' : 'dark'} ground`,
  };
};

interface Band {
  readonly low: number;
  readonly high: number;
  /** Radius at `low` and its growth a metre up. */
  readonly radius: number;
  readonly slope: number;
}

/** Nearest place where a line meets the bands of a round body with its axis at x0, or its lid. */
const meetRound = (
  bands: readonly Band[],
  x0: number,
  at: readonly number[],
  d: readonly number[],
): { t: number; nx: number } | undefined => {
  let best: { t: number; nx: number } | undefined;
  const [ox, oz, oy] = [at[0] - x0, at[1], at[2]];
  const take = (t: number, nx: number): void => {
    if (t > 0 && t < (best?.t ?? Number.POSITIVE_INFINITY)) best = { t, nx };
  };
  for (const { low, high, radius, slope } of bands) {
    // x² + y² = (radius + slope (z − low))²
    const r0 = radius + slope * (oz - low);
    const a = d[0] ** 2 + d[2] ** 2 - (slope * d[1]) ** 2;
    const b = ox * d[0] + oy * d[2] - slope * d[1] * r0;
    const c = ox * ox + oy * oy - r0 * r0;
    const root = b * b - a * c;
    if (root < 0) continue;
    for (const sign of [-1, 1]) {
      const t = (-b + sign * Math.sqrt(root)) / a;
      const z = oz + t * d[1];
      if (z >= low && z <= high) take(t, (ox + t * d[0]) / (radius + slope * (z - low)));
    }
  }
  const last = bands[bands.length - 1];
  const top = last.radius + slope(last);
  const t = (last.high - oz) / d[1];
  if (t > 0 && Math.hypot(ox + t * d[0], oy + t * d[2]) <= top) take(t, 0);
  return best;
};
const slope = (b: Band): number => b.slope * (b.high - b.low);

/** A round body in space, its axis in the card's plane; the truth is its section through the axis. */
export const roundShot = (seed: number, size: Size = SIZE): Shot => {
  const between = dice(5000 + seed);
  for (let k = 0; k < 5; k++) between(0, 1);
  const [name, half] = oneOf(between, HALVES);
  const [wide, high] = [between(0.035, 0.055), between(0.05, 0.125)];
  const x0 = 0.212;
  const count = 24;
  const bands = Array.from({ length: count }, (_, i): Band => {
    const [r0, r1] = [wide * half(i / count), wide * half((i + 1) / count)];
    return {
      low: (high * i) / count,
      high: (high * (i + 1)) / count,
      radius: r0,
      slope: ((r1 - r0) * count) / high,
    };
  });
  const right = [...bands.map((b): Point => [x0 + b.radius, b.low]), [x0 + wide * half(1), high] as Point];
  const left = right.map(([x, z]): Point => [2 * x0 - x, z]).reverse();
  const light = oneOf(between, LIGHTS);
  const [behind, dark, round] = [
    cloth(between, light.cloth),
    shadow(between, x0, wide),
    shade(between, light.white),
  ];
  const card = SCALE_CARDS[0];
  const eye = camera(between, size, [0.127, 0.065], 0.12);
  const meet = (x: number, z: number, d: readonly number[]): Met => {
    const onCard = cardAt(card, x, z);
    if (onCard) return onCard;
    const near = Math.abs(x - x0) < 1.2 * wide && z < 1.3 * high && z > -0.03;
    const hit = near ? meetRound(bands, x0, eye.at, d) : undefined;
    if (hit) return { thing: 1, light: round(hit.nx) };
    const shaded = dark(x, z);
    const [r, g, b] = behind(x, z);
    return { thing: 0, light: [r * shaded, g * shaded, b * shaded] };
  };
  return {
    picture: photograph(eye, meet, between(0.01, 0.03), between),
    eye,
    card,
    truth: Float64Array.from([...right, ...left].flat()),
    what: `round ${name}, ${light.cloth[0] > 0.5 ? 'bright' : 'dark'} ground`,
  };
};
