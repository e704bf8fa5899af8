import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import { fan, stitchRings } from '../../kernel/mesh/strip.ts';
import type { Form } from './form-shape.ts';
import { drawable } from './pattern.ts';
import { ringAngles } from './ring-angles.ts';
import { type Rings, ringsFor } from './rings.ts';
import { formSection } from './section.ts';
import { standOnShelf } from './stand-on-shelf.ts';
import { alteredSurface, type Surface } from './surface.ts';

/** Which nodes are which; true for the mesh before and after any firing. */
export interface FormTags {
  /** Share of the mid line, 0 in the middle of the floor (or at a tube's lower edge) to 1 at the lip. */
  readonly along: Float64Array;
  /** Angle round the axis from +x as drawn, rad, 0 to 2 pi. */
  readonly angle_rad: Float64Array;
  /** Nodes of the lip in order, angle rising. */
  readonly lipNodes: Uint32Array;
  /** Nodes of the ring it stands on upright (edge of the disc, bottom of the ring, lower edge of a tube), angle rising. */
  readonly footNodes: Uint32Array;
  /** Nodes where the wall begins, angle rising; the same ring unless it stands on a foot ring. */
  readonly footEdge: Uint32Array;
  /** 1 for nodes of the floor and of a foot ring, 0 for the wall. */
  readonly floor: Uint8Array;
  /** Whether it is open at the bottom. */
  readonly open: boolean;
  /** Alterations (places in the form's list) with more ridges than so few triangles can draw; left out whole. */
  readonly tooFine: readonly number[];
}

export type FormMesh = WallMesh & FormTags;

export interface MeshWish {
  /** About how many triangles, 200 to 200,000. */
  readonly triangles: number;
  /** Every length of the form times this: 1 as drawn, the linear drying or firing shrinkage factor otherwise. */
  readonly scale: number;
}

interface Nodes {
  readonly positions: Float64Array;
  readonly thickness_m: Float64Array;
  readonly along: Float64Array;
  readonly angle_rad: Float64Array;
  readonly floor: Uint8Array;
}

const TURN = 2 * Math.PI;

/** Samples on each side of a ring for its mean thickness. */
const SAMPLES = 6;

/**
 * Thickness a ring's nodes stand for: the mean over their share of the line, weighted as the mesh will (linearly to
 * the neighbours). So the clay is right however coarse the mesh; a lip thinner than one row shows only partly.
 */
const thicknessAround = (surface: Surface, lengths: readonly number[], i: number, angle: number): number => {
  const here = lengths[i];
  let [sum, weight] = [0, 0];
  for (const other of [lengths[i - 1] ?? (surface.section.hasFloor ? 0 : here), lengths[i + 1] ?? here])
    for (let k = 0; k < SAMPLES; k++) {
      const share = (k + 0.5) / SAMPLES;
      const w = Math.abs(other - here) * (1 - share);
      sum += w * surface.thickness(here + share * (other - here), angle);
      weight += w;
    }
  return sum / weight;
};

const placeNodes = (
  surface: Surface,
  rings: Rings,
  angles: readonly Float64Array[],
  first: Uint32Array,
): Nodes => {
  const { section, total } = surface;
  const nodes = first[first.length - 1];
  const out: Nodes = {
    positions: new Float64Array(3 * nodes),
    thickness_m: new Float64Array(nodes),
    along: new Float64Array(nodes),
    angle_rad: new Float64Array(nodes),
    floor: new Uint8Array(nodes),
  };
  if (section.hasFloor) {
    surface.at(0, 0, out.positions, 0);
    out.thickness_m[0] = surface.thickness(0, 0);
    out.floor[0] = 1;
  }
  for (let i = 0; i < rings.lengths.length; i++) {
    const level = thicknessAround(surface, rings.lengths, i, 0);
    for (let k = 0; k < angles[i].length; k++) {
      const n = first[i] + k;
      const angle = angles[i][k];
      surface.at(rings.lengths[i], angle, out.positions, 3 * n);
      out.thickness_m[n] = surface.uncutLip ? level : thicknessAround(surface, rings.lengths, i, angle);
      out.along[n] = rings.lengths[i] / total;
      out.angle_rad[n] = ((angle % TURN) + TURN) % TURN;
      out.floor[n] = rings.lengths[i] < section.wallFrom - 1e-9 ? 1 : 0;
    }
  }
  return out;
};

/**
 * The mid-surface of a form as triangles with wall thickness, standing upright on the shelf z = 0 with its axis on z.
 * One sheet without cracks: one open edge at the lip, two for a tube. Thickness is as drawn and at right angles to the
 * altered surface: pressing a lobe does not thin the wall.
 * @returns SI; see FormTags for what comes with the mesh
 */
export const meshForm = (form: Form, wish: MeshWish): FormMesh => {
  const section = formSection(form);
  const { pattern, shown, tooFine } = drawable(form.alterations, section, wish.triangles);
  const surface = alteredSurface(section, shown);
  const rings = ringsFor(surface, pattern, wish.triangles);
  const angles = ringAngles(surface, rings, pattern);
  const first = new Uint32Array(rings.counts.length + 1);
  first[0] = section.hasFloor ? 1 : 0;
  for (let i = 0; i < rings.counts.length; i++) first[i + 1] = first[i] + rings.counts[i];
  const ring = (i: number): Uint32Array =>
    Uint32Array.from({ length: rings.counts[i] }, (_, k) => first[i] + k);
  const list: number[] = [];
  if (section.hasFloor) fan(0, ring(0), list);
  for (let i = 0; i + 1 < rings.counts.length; i++)
    stitchRings(ring(i), angles[i], ring(i + 1), angles[i + 1], list);
  const triangles = Uint32Array.from(list);
  const nodes = placeNodes(surface, rings, angles, first);
  const ringAt = (s: number): Uint32Array => ring(rings.lengths.findIndex((l) => Math.abs(l - s) < 1e-6));
  const [footNodes, lipNodes] = [ringAt(section.stands), ring(rings.counts.length - 1)];
  standOnShelf(
    { ...nodes, triangles },
    form.foot.kind === 'disc' ? [lipNodes] : [footNodes, lipNodes],
    wish.scale,
  );
  return {
    ...nodes,
    triangles,
    lipNodes,
    footNodes,
    footEdge: ringAt(section.hasFloor ? section.wallFrom : 0),
    open: !section.hasFloor,
    tooFine,
  };
};
