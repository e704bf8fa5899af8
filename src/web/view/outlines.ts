import { Color } from 'three';
import { LineMaterial } from 'three/addons/lines/LineMaterial.js';
import { LineSegments2 } from 'three/addons/lines/LineSegments2.js';
import { LineSegmentsGeometry } from 'three/addons/lines/LineSegmentsGeometry.js';
import type { CarvingOutline } from '../../making/form/carving/carving-outlines.ts';
import type { Picture, Seen } from '../worker/film.ts';
import { type Bound, bind, follow, setAs } from './bound.ts';

const SOUND = new Color('#5d4a33');
const BAD = new Color('#c4281a');
const WIDTH_px = { sound: 1.6, bad: 3 } as const;

/** Carving as lines on the wall, that go along with it through the fire. */
export interface OutlineDrawing {
  readonly objects: readonly LineSegments2[];
  /** Lays the lines on a piece; nothing where it does not stand. */
  readonly take: (lines: readonly CarvingOutline[], seen: Seen | undefined) => void;
  readonly pose: (picture: Pick<Picture, 'positions' | 'linearScale'>) => void;
  readonly resize: (width: number, height: number) => void;
}

interface Strokes {
  readonly object: LineSegments2;
  bound: Bound | undefined;
  /** Number of points of each closed line. */
  counts: readonly number[];
}

const strokes = (colour: Color, linewidth: number): Strokes => {
  const object = new LineSegments2(
    new LineSegmentsGeometry(),
    new LineMaterial({ color: colour.getHex(), linewidth, worldUnits: false }),
  );
  object.visible = false;
  object.frustumCulled = false;
  return { object, bound: undefined, counts: [] };
};

/** Closed lines as pairs of points. */
const segments = (points: Float32Array, counts: readonly number[]): Float32Array => {
  const out = new Float32Array(2 * points.length);
  let [from, at] = [0, 0];
  for (const count of counts) {
    for (let i = 0; i < count; i++, at += 6) {
      const j = from + ((i + 1) % count);
      out.set(points.subarray(3 * (from + i), 3 * (from + i) + 3), at);
      out.set(points.subarray(3 * j, 3 * j + 3), at + 3);
    }
    from += count;
  }
  return out;
};

const joined = (lines: readonly CarvingOutline[]): Float64Array => {
  const out = new Float64Array(lines.reduce((sum, l) => sum + l.points.length, 0));
  let at = 0;
  for (const { points } of lines) {
    out.set(points, at);
    at += points.length;
  }
  return out;
};

export const buildOutlines = (): OutlineDrawing => {
  const sound = strokes(SOUND, WIDTH_px.sound);
  const bad = strokes(BAD, WIDTH_px.bad);
  const both = [sound, bad];

  const lay = (s: Strokes, lines: readonly CarvingOutline[], seen: Seen | undefined): void => {
    s.object.visible = lines.length > 0 && seen?.asSet !== undefined;
    s.bound = undefined;
    if (!s.object.visible || !seen?.asSet) return;
    const set = setAs(joined(lines), seen.asSet, seen.dryScale);
    s.bound = bind(set, seen.before.positions, seen.triangles);
    s.counts = lines.map((l) => l.points.length / 3);
  };

  return {
    objects: both.map((s) => s.object),
    take: (lines, seen) => {
      lay(
        sound,
        lines.filter((l) => !l.bad),
        seen,
      );
      lay(
        bad,
        lines.filter((l) => l.bad),
        seen,
      );
    },
    pose: (picture) => {
      for (const { object, bound, counts } of both) {
        if (!bound) continue;
        object.geometry.dispose();
        object.geometry = new LineSegmentsGeometry().setPositions(segments(follow(bound, picture), counts));
      }
    },
    resize: (width, height) => {
      for (const { object } of both) object.material.resolution.set(width, height);
    },
  };
};
