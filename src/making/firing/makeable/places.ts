import type { Form } from '../../form/form.ts';
import type { FormMesh } from '../../form/mesh-form.ts';
import { formSection, type Section } from '../../form/section.ts';
import { alteredSurface, type Surface } from '../../form/surface.ts';

/**
 * Where each node of a mesh lies on its form, so that it can be found again on a form with other numbers: as a share of one
 * stretch (floor, legs of the ring, wall) between corners, and an angle.
 */
export interface Places {
  /** Which stretch; nodes on a corner belong to the one that ends there. */
  readonly stretch: Uint8Array;
  /** Share of it, 0 to 1. */
  readonly share: Float64Array;
  readonly angle_rad: Float64Array;
  /** 1: on a corner, a lip or a tube's end, 2: the middle of the floor; these keep their share. */
  readonly edge: Uint8Array;
}

export const endsOf = (section: Section): number[] => [
  0,
  ...section.corners,
  section.length[section.length.length - 1],
];

/** As drawn for the mesh: alterations it is too coarse for left out. */
export const surfaceOf = (form: Form, tooFine: readonly number[] = []): Surface =>
  alteredSurface(
    formSection(form),
    form.alterations.filter((_, i) => !tooFine.includes(i)),
  );

const AT_END = 1e-6;

export const placesOf = (mesh: Pick<FormMesh, 'along' | 'angle_rad'>, surface: Surface): Places => {
  const n = mesh.along.length;
  const ends = endsOf(surface.section);
  const out: Places = {
    stretch: new Uint8Array(n),
    share: new Float64Array(n),
    angle_rad: Float64Array.from(mesh.angle_rad),
    edge: new Uint8Array(n),
  };
  for (let i = 0; i < n; i++) {
    const s = mesh.along[i] * surface.total;
    let k = 0;
    while (k + 2 < ends.length && s > ends[k + 1] + AT_END) k++;
    out.stretch[i] = k;
    const share = (s - ends[k]) / (ends[k + 1] - ends[k]);
    out.share[i] = Math.min(1, Math.max(0, share));
    if (out.share[i] > 1 - AT_END) out.edge[i] = 1;
    if (s < AT_END) out.edge[i] = surface.section.hasFloor ? 2 : 1;
  }
  return out;
};

/** Length on the section of a place. */
export const lengthAt = (places: Places, ends: readonly number[], i: number): number => {
  const k = places.stretch[i];
  return ends[k] + places.share[i] * (ends[k + 1] - ends[k]);
};

/** Positions (3 a node) and walls of all places on a surface, mm. */
export const lieOn = (
  places: Places,
  surface: Surface,
  positions: Float64Array,
  walls: Float64Array,
): void => {
  const ends = endsOf(surface.section);
  for (let i = 0; i < walls.length; i++) {
    const s = lengthAt(places, ends, i);
    surface.at(s, places.angle_rad[i], positions, 3 * i);
    walls[i] = surface.thickness(s, places.angle_rad[i]);
  }
};

/** How far along and round to look for the slope, mm. */
const STEP_mm = 0.05;
/** A place moves at most this far in one go, mm. */
const MOST_mm = 5;

/** The two tangents of the surface at a place: d/ds, and d/d(angle). */
export const tangentsAt = (surface: Surface, s: number, angle_rad: number): readonly [Vec, Vec] => {
  const p = new Float64Array(12);
  const low = Math.max(0, s - STEP_mm);
  const high = Math.min(surface.total, s + STEP_mm);
  const turn = STEP_mm / Math.max(1, surface.radius(s));
  surface.at(low, angle_rad, p, 0);
  surface.at(high, angle_rad, p, 3);
  surface.at(s, angle_rad - turn, p, 6);
  surface.at(s, angle_rad + turn, p, 9);
  const d = (a: number, b: number, w: number): Vec => [
    (p[b] - p[a]) / w,
    (p[b + 1] - p[a + 1]) / w,
    (p[b + 2] - p[a + 2]) / w,
  ];
  return [d(0, 3, high - low), d(6, 9, 2 * turn)];
};

export type Vec = readonly [number, number, number];
const dot = (a: Vec, b: Vec): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/**
 * Moves every place along the surface to where it is nearest its point (one step of Newton's): shapes are compared, not which
 * bit of clay went where. Edges only slide along themselves.
 */
export const slide = (places: Places, surface: Surface, points: Float64Array): Places => {
  const ends = endsOf(surface.section);
  const share = places.share.slice();
  const angle = places.angle_rad.slice();
  const at = new Float64Array(3);
  for (let i = 0; i < share.length; i++) {
    if (places.edge[i] === 2) continue;
    const s = lengthAt(places, ends, i);
    surface.at(s, angle[i], at, 0);
    const off: Vec = [points[3 * i] - at[0], points[3 * i + 1] - at[1], points[3 * i + 2] - at[2]];
    const [up, round] = tangentsAt(surface, s, angle[i]);
    const [a, b, c] = [dot(up, up), dot(up, round), dot(round, round)];
    const [p, q] = [dot(off, up), dot(off, round)];
    const most = MOST_mm / Math.sqrt(c || 1);
    const bounded = (x: number, by: number): number => Math.min(by, Math.max(-by, x));
    if (places.edge[i] === 1) {
      if (c > 0) angle[i] += bounded(q / c, most);
      continue;
    }
    const det = a * c - b * b;
    if (!(det > 1e-9 * a * c)) continue;
    const k = places.stretch[i];
    share[i] += bounded((c * p - b * q) / det, MOST_mm) / (ends[k + 1] - ends[k]);
    share[i] = Math.min(1, Math.max(0, share[i]));
    angle[i] += bounded((a * q - b * p) / det, most);
  }
  return { ...places, share, angle_rad: angle };
};
