import type { WallMesh } from '../../../kernel/mesh/mesh.ts';
import type { Form } from '../../form/form.ts';
import type { FormMesh } from '../../form/mesh-form.ts';
import { turnBack } from '../set-down.ts';
import type { Setting } from '../setting.ts';
import { lieOn, placesOf, surfaceOf } from './places.ts';

/** The free shape a form is to come near to: upright, in mm of the wet piece, nodes as those of the wanted mesh. */
export interface Target {
  readonly positions_mm: Float64Array;
  readonly walls_mm: Float64Array;
  readonly triangles: Uint32Array;
  readonly along: Float64Array;
  readonly angle_rad: Float64Array;
  /** Places of alterations the mesh is too coarse to show. */
  readonly tooFine: readonly number[];
  /** What carving and the mesh itself add to the bare surface at each node, mm, as drawn. */
  readonly extra_mm: Float64Array;
  readonly extraWall_mm: Float64Array;
  /** How much each node counts: 0 where it lies on the shelf and nothing can be made of it. */
  readonly counts: Float64Array;
  readonly centre_mm: readonly [number, number, number];
  /** It stands on the shelf: it may be slid and turned there, and a piece too tall is too tall. */
  readonly stands: boolean;
}

const centreOf = (p: Float64Array): [number, number, number] => {
  const c: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < p.length; i++) c[i % 3] += p[i] / (p.length / 3);
  return c;
};

/** Nodes of the ring a piece stands on in the kiln; none where it lies. */
export const ringOf = (mesh: FormMesh, attitude: Setting['attitude']): Uint32Array =>
  attitude === 'upright' ? mesh.footNodes : attitude === 'rim down' ? mesh.lipNodes : new Uint32Array(0);

/** Carved nodes and the like lie off the bare surface by more than this, mm. */
const CARVED_mm = 0.02;

/**
 * @param drawn the wanted form's mesh, any scale @param form that form, thrown sizes
 * @param shape the same nodes where they should be, turned by `turn` as it lies in the kiln
 * @param toThrown_mm from the shape's metres to mm of the wet piece
 * @param ring nodes of the foot or lip it stands on; none where it lay on its side and may be placed any way
 * @param raised_mm how much higher that ring is drawn where the shape is to be laid than in `form`
 */
export const targetOf = (
  drawn: FormMesh,
  form: Form,
  shape: WallMesh,
  turn: ArrayLike<number>,
  toThrown_mm: number,
  counts: Float64Array,
  ring: Uint32Array = new Uint32Array(0),
  raised_mm = 0,
): Target => {
  const n = drawn.along.length;
  const surface = surfaceOf(form, drawn.tooFine);
  const flat = new Float64Array(3 * n);
  const walls = new Float64Array(n);
  lieOn(placesOf(drawn, surface), surface, flat, walls);
  const scale = scaleTo(flat, drawn.positions);
  const drawn_mm = drawn.positions.map((x) => x * scale);
  const lift = middle(Float64Array.from({ length: n }, (_, i) => drawn_mm[3 * i + 2] - flat[3 * i + 2]));
  const extra = new Float64Array(3 * n);
  for (let i = 0; i < 3 * n; i++) extra[i] = drawn_mm[i] - flat[i] - (i % 3 === 2 ? lift : 0);
  for (let i = 0; i < n; i++)
    if (Math.hypot(extra[3 * i], extra[3 * i + 1], extra[3 * i + 2]) < CARVED_mm)
      extra.fill(0, 3 * i, 3 * i + 3);
  const positions = turnBack(shape.positions, Float64Array.from(turn)).map((x) => x * toThrown_mm);
  // Laid over the drawing, so that little is left to move.
  const from = centreOf(positions);
  const to = centreOf(flat);
  const stands = ring.length > 0;
  if (stands) {
    // Level with the drawing where it stands, not on the mean: else half of what it is too tall would not be seen.
    const heightOf = (p: Float64Array): number =>
      ring.reduce((sum, n) => sum + p[3 * n + 2], 0) / ring.length;
    [from[2], to[2]] = [heightOf(positions), heightOf(flat) + heightOf(extra) + raised_mm];
  }
  for (let i = 0; i < positions.length; i++) positions[i] += to[i % 3] - from[i % 3];
  return {
    positions_mm: positions,
    walls_mm: shape.thickness_m.map((h) => h * toThrown_mm),
    triangles: drawn.triangles,
    along: drawn.along,
    angle_rad: drawn.angle_rad,
    tooFine: drawn.tooFine,
    extra_mm: extra,
    extraWall_mm: drawn.thickness_m.map((h, i) => h * scale - walls[i]),
    counts,
    centre_mm: to,
    stands,
  };
};

/** mm of the form for each metre of the mesh: from how far both reach from their axes. */
const scaleTo = (flat: Float64Array, positions: Float64Array): number => {
  let [a, b] = [0, 0];
  for (let i = 0; i < flat.length; i++) {
    if (i % 3 === 2) continue;
    a += flat[i] * positions[i];
    b += positions[i] * positions[i];
  }
  return a / b;
};

const middle = (values: Float64Array): number => values.slice().sort()[values.length >> 1];
