import type { Point } from '../src/making/photo/homography.ts';
import type { Picture } from '../src/making/photo/picture.ts';
import {
  CARD_MARGIN_m,
  DISC_RADIUS_m,
  discMiddles,
  HOLE_RADIUS_m,
  type ScaleCard,
} from '../src/making/photo/scale-card.ts';
import type { Throw } from './dice.ts';

/** Photographs we make ourselves, of shapes whose outline is known exactly: pinhole camera, card, cloth, shade, noise. */

export type Light = readonly [number, number, number];

/** What a line of sight meets: which thing (for finding edges) and its light. */
export interface Met {
  readonly thing: number;
  readonly light: Light;
}

export interface Eye {
  /** In the card's plane (x right, z up) and before it, m. */
  readonly at: readonly [number, number, number];
  /** Unit vectors of the camera in (x, z, towards the eye). */
  readonly right: readonly number[];
  readonly down: readonly number[];
  readonly ahead: readonly number[];
  readonly f_px: number;
  /** How much too far out the lens throws the picture's corners, as a share (barrel below 0). */
  readonly bend?: number;
  readonly width: number;
  readonly height: number;
}

const cross = (a: readonly number[], b: readonly number[]): number[] => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const unit = (a: readonly number[]): number[] => a.map((x) => x / Math.hypot(...a));
const dot = (a: readonly number[], b: readonly number[]): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** A pinhole camera that looks at a place of the plane, rolled a little. */
export const eyeAt = (
  at: readonly [number, number, number],
  lookAt: Point,
  roll_rad: number,
  size: Pick<Eye, 'f_px' | 'bend' | 'width' | 'height'>,
): Eye => {
  const ahead = unit([lookAt[0] - at[0], lookAt[1] - at[1], -at[2]]);
  // (x, z, towards the eye) is right-handed: right × up = towards the eye.
  const level = unit(cross(ahead, [0, 1, 0]));
  const sunk = cross(ahead, level);
  const [c, s] = [Math.cos(roll_rad), Math.sin(roll_rad)];
  const right = level.map((x, k) => c * x + s * sunk[k]);
  const down = level.map((x, k) => -s * x + c * sunk[k]);
  return { at, right, down, ahead, ...size };
};

/** Direction of sight of a place in the picture. */
const sight = (eye: Eye, u: number, v: number): number[] => {
  const { right, down, ahead, f_px, width, height, bend = 0 } = eye;
  const [x, y] = [u - width / 2, v - height / 2];
  const by = 1 / (1 + (bend * 4 * (x * x + y * y)) / (width * width + height * height));
  return [0, 1, 2].map((k) => ahead[k] * f_px + by * (right[k] * x + down[k] * y));
};

/** Where the picture shows a place in space, px. */
export const seenAt = (eye: Eye, p: readonly number[]): Point => {
  const d = [0, 1, 2].map((k) => p[k] - eye.at[k]);
  const z = dot(d, eye.ahead);
  return [
    eye.width / 2 + (eye.f_px * dot(d, eye.right)) / z,
    eye.height / 2 + (eye.f_px * dot(d, eye.down)) / z,
  ];
};

const INK: Light = [0.03, 0.03, 0.035];
const PAPER: Light = [0.8, 0.8, 0.78];

/** The card as printed, in its own plane. */
export const cardAt = (card: ScaleCard, x: number, z: number): Met | undefined => {
  const m = CARD_MARGIN_m;
  if (x < -m || x > card.across_m + m || z < 0 || z > card.up_m + 2 * m) return undefined;
  const disc = discMiddles(card).findIndex(([dx, dz]) => Math.hypot(x - dx, z - dz) < DISC_RADIUS_m);
  if (disc >= 0) {
    const [dx, dz] = discMiddles(card)[disc];
    const hole = disc < card.rings && Math.hypot(x - dx, z - dz) < HOLE_RADIUS_m;
    return hole ? { thing: 2, light: PAPER } : { thing: 3, light: INK };
  }
  const along = (x - card.across_m / 2 + 0.05) * 100;
  const tick = Math.abs(along - Math.round(along)) < 0.02 && along > -0.1 && along < 10.1;
  if (tick && z > 0.03 && z < 0.036) return { thing: 3, light: INK };
  return { thing: 2, light: PAPER };
};

/** sRGB values of light in steps of a 16384th (IEC 61966-2-1): a fifth of a value at most. */
const CODED = Float64Array.from({ length: 16385 }, (_, i) => {
  const c = i / 16384;
  return 255 * (c <= 0.0031308 ? 12.92 * c : 1.055 * c ** (1 / 2.4) - 0.055);
});
const coded = (x: number): number => CODED[Math.round(16384 * Math.min(1, Math.max(0, x)))];

const FINE = 4;

/**
 * Takes the picture: one line of sight a pixel, 16 where an edge passes; then the lens's blur (1 2 1 twice over), the
 * sensor's noise (grows with the light), and sRGB.
 */
export const photograph = (
  eye: Eye,
  meet: (x: number, z: number, direction: readonly number[]) => Met,
  noise: number,
  between: Throw,
): Picture => {
  const { width, height } = eye;
  const look = (u: number, v: number): Met => {
    const d = sight(eye, u, v);
    const t = -eye.at[2] / d[2];
    return meet(eye.at[0] + t * d[0], eye.at[1] + t * d[1], d);
  };
  const thing = new Uint8Array(width * height);
  const light = new Float32Array(3 * width * height);
  const edge = new Uint8Array(width * height);
  for (let v = 0, p = 0; v < height; v++)
    for (let u = 0; u < width; u++, p++) {
      const met = look(u + 0.5, v + 0.5);
      thing[p] = met.thing;
      light.set(met.light, 3 * p);
    }
  for (let p = width; p < thing.length - width; p++) {
    const own = thing[p];
    const same =
      thing[p - 1] === own && thing[p + 1] === own && thing[p - width] === own && thing[p + width] === own;
    if (same) continue;
    for (const row of [-width, 0, width]) edge.fill(1, p + row - 1, p + row + 2);
    const sum = [0, 0, 0];
    for (let k = 0; k < FINE * FINE; k++) {
      const met = look(
        (p % width) + ((k % FINE) + 0.5) / FINE,
        Math.floor(p / width) + (Math.floor(k / FINE) + 0.5) / FINE,
      );
      for (let c = 0; c < 3; c++) sum[c] += met.light[c] / (FINE * FINE);
    }
    light.set(sum, 3 * p);
  }
  const data = new Uint8ClampedArray(4 * width * height).fill(255);
  const chance = (): number => between(0, 1) + between(0, 1) + between(0, 1) + between(0, 1) - 2;
  for (let p = 0; p < thing.length; p++) {
    const [x, y] = [p % width, Math.floor(p / width)];
    // Away from edges there is nothing to blur.
    const blurred = edge[p] === 1 && x > 0 && y > 0 && x < width - 1 && y < height - 1;
    for (let c = 0; c < 3; c++) {
      let l = light[3 * p + c];
      if (blurred) {
        l = 0;
        for (let j = -1; j <= 1; j++)
          for (let i = -1; i <= 1; i++)
            l += (2 - Math.abs(i)) * (2 - Math.abs(j)) * light[3 * (p + j * width + i) + c];
        l /= 16;
      }
      // The sum of four even throws has deviation 0.577.
      data[4 * p + c] = coded(l + noise * Math.sqrt(l + 0.01) * 1.73 * chance());
    }
  }
  return { width, height, data };
};

/** A cloth hung behind and laid under: two colours that change slowly, folds, weave. */
export const cloth = (between: Throw, bright: readonly [number, number]) => {
  const base = between(...bright);
  const tint = [between(0.85, 1.15), between(0.85, 1.15), between(0.85, 1.15)];
  const [gx, gz] = [between(-0.8, 0.8), between(-0.8, 0.8)];
  const table = between(0.75, 1.2);
  const horizon = between(-0.004, 0.012);
  const fold = between(0, 0.06);
  return (x: number, z: number): Light => {
    const across = 1 + gx * (x - 0.1) + gz * (z - 0.08);
    const wave = 1 + fold * Math.sin(70 * x + 13 * Math.sin(20 * z));
    const weave = 1 + 0.03 * Math.sin(5200 * x) * Math.sin(5200 * z);
    const b = base * across * wave * weave * (z < horizon ? table : 1);
    return [b * tint[0], b * tint[1], b * tint[2]];
  };
};

/** Soft shadow on the cloth beside a foot. */
export const shadow = (between: Throw, x0: number, wide: number) => {
  const [a, b, deep] = [wide * between(0.6, 1.2), between(0.004, 0.02), between(0.3, 0.7)];
  const middle = x0 + wide * between(-0.6, 0.6);
  return (x: number, z: number): number =>
    1 - deep * Math.exp(-(((x - middle) / a) ** 2) - ((z - 0.001) / b) ** 2);
};

/** Light on a round white body, lit from one side; `t` −1 to 1 across it. */
export const shade = (between: Throw, white: readonly [number, number]) => {
  const level = between(...white);
  const from = between(-1.1, 1.1);
  const fill = between(0.3, 0.5);
  return (t: number): Light => {
    const s = Math.max(0, Math.cos(Math.asin(Math.max(-1, Math.min(1, t))) - from));
    const b = level * (fill + (1 - fill) * s);
    return [b, b * 0.99, b * 0.96];
  };
};
