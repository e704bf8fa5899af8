import { fan, stitchRings } from '../../kernel/mesh/strip.ts';
import { type CarvedBand, carvedBand } from './carving/carved-band.ts';
import { flipInSpace } from './carving/flip.ts';
import { openingsOf } from './carving/lay.ts';
import { planeArea } from './carving/patch.ts';
import { type Depth, reliefDepth } from './carving/relief.ts';
import { countAcross } from './carving/struts.ts';
import { unroll } from './carving/unroll.ts';
import type { CarvedTags, FormMesh, MeshWish } from './form-mesh.ts';
import type { Form } from './form-shape.ts';
import { drawable, type Pattern } from './pattern.ts';
import { emptyNodes, meanThickness, type Nodes, type Place, placeNode } from './place-nodes.ts';
import { ringAngles } from './ring-angles.ts';
import { ringsFor } from './rings.ts';
import { formSection } from './section.ts';
import { survey } from './sizes.ts';
import { standOnShelf } from './stand-on-shelf.ts';
import { alteredSurface, type Surface } from './surface.ts';

export type { FormMesh, FormTags, MeshWish } from './form-mesh.ts';

/** Rings of nodes up the wall and, where it is pierced, the freely triangulated band between two of them. */
interface Net {
  readonly lengths: readonly number[];
  readonly angles: readonly Float64Array[];
  /** Number of each ring's first node, and of the first node after the rings. */
  readonly first: Uint32Array;
  readonly band?: CarvedBand;
  readonly leftOut?: readonly number[];
  readonly depth?: Depth;
}

const firstNodes = (angles: readonly Float64Array[], hasFloor: boolean): Uint32Array => {
  const first = new Uint32Array(angles.length + 1);
  first[0] = hasFloor ? 1 : 0;
  for (let i = 0; i < angles.length; i++) first[i + 1] = first[i] + angles[i].length;
  return first;
};

const netOf = (surface: Surface, pattern: Pattern, form: Form, wish: MeshWish): Net => {
  const { triangles, keepCarving = false } = wish;
  const { hasFloor } = surface.section;
  const plain = (): Pick<Net, 'lengths' | 'angles' | 'first'> => {
    const rings = ringsFor(surface, pattern, triangles);
    const angles = ringAngles(surface, rings, pattern);
    return { lengths: rings.lengths, angles, first: firstNodes(angles, hasFloor) };
  };
  if (form.carving.length === 0) return plain();
  const stations = survey(surface, pattern);
  const wall = unroll(surface, stations);
  const depth = reliefDepth(form.carving, wall);
  const openings = openingsOf(form.carving, wall);
  if (openings.length === 0) return { ...plain(), depth };
  const { band, leftOut } = carvedBand(surface, stations, pattern, openings, triangles, keepCarving);
  if (!band) return { ...plain(), depth, leftOut };
  const { lengths, angles } = band;
  return { lengths, angles, first: firstNodes(angles, hasFloor), band, leftOut, depth };
};

const placeNodes = (surface: Surface, { lengths, angles, first, band, depth }: Net): Nodes => {
  const { hasFloor } = surface.section;
  const onRings = first[first.length - 1];
  const nodes = emptyNodes(onRings + (band?.places.length ?? 0));
  if (hasFloor) {
    surface.at(0, 0, nodes.positions, 0);
    nodes.thickness_m[0] = surface.thickness(0, 0);
    nodes.floor[0] = 1;
  }
  for (let i = 0; i < angles.length; i++) {
    const here = lengths[i];
    const near = band?.reachBeside(i);
    const place = (angle_rad: number): Place => ({
      length: here,
      angle_rad,
      below: lengths[i - 1] ?? (hasFloor ? 0 : here),
      above: lengths[i + 1] ?? here,
      ...near,
      beside: (2 * Math.PI) / angles[i].length,
    });
    const level = meanThickness(surface, place(0));
    for (let k = 0; k < angles[i].length; k++) {
      const thickness = surface.uncutLip ? level : meanThickness(surface, place(angles[i][k]));
      placeNode(surface, place(angles[i][k]), thickness, depth, nodes, first[i] + k);
    }
  }
  band?.places.forEach((place, k) => {
    placeNode(surface, place, meanThickness(surface, place), depth, nodes, onRings + k);
  });
  return nodes;
};

/** The band's triangles in numbers of the whole mesh, its edges turned to the better triangles. */
const bandTriangles = (band: CarvedBand, own: Uint32Array, positions: Float64Array, into: number[]): void => {
  const local = new Float64Array(3 * own.length);
  own.forEach((n, k) => {
    local.set(positions.subarray(3 * n, 3 * n + 3), 3 * k);
  });
  const { patch } = band;
  flipInSpace(local, patch.triangles, planeArea(patch.x, patch.y));
  for (const n of patch.triangles) into.push(own[n]);
};

/** So much over the wish is worth a word. */
const CLEARLY_MORE = 1.15;

const carvedTags = (
  net: Net,
  own: Uint32Array,
  mesh: Pick<FormMesh, 'positions' | 'triangles'>,
  ends: readonly Uint32Array[],
  wished: number,
): CarvedTags | undefined => {
  if (!net.leftOut) return undefined;
  const made = mesh.triangles.length / 3;
  const rims = (net.band?.patch.rims ?? []).map((rim) => rim.map((n) => own[n]));
  const struts =
    rims.length > 0 ? countAcross(mesh.positions, mesh.triangles, [...rims, ...ends]) : undefined;
  return {
    rims,
    leftOut: net.leftOut,
    ...(struts && struts.across < 3 ? { coarseStruts: struts } : {}),
    ...(made > CLEARLY_MORE * wished ? { made: { triangles: made, wished } } : {}),
  };
};

/**
 * The mid-surface of a form as triangles with wall thickness, standing upright on the shelf z = 0 with its axis on z.
 * One sheet without cracks: one open edge at the lip, two for a tube, and one for each opening. Thickness is as drawn
 * and at right angles to the altered surface: pressing a lobe does not thin the wall; relief does, from the outside.
 * A pierced piece may get more triangles than wished, where its struts need them.
 * @returns SI; see FormTags for what comes with the mesh
 */
export const meshForm = (form: Form, wish: MeshWish): FormMesh => {
  const section = formSection(form);
  const { pattern, shown, tooFine } = drawable(form.alterations, section, wish.triangles);
  const surface = alteredSurface(section, shown);
  const net = netOf(surface, pattern, form, wish);
  const { lengths, angles, first, band } = net;
  const ring = (i: number): Uint32Array =>
    Uint32Array.from({ length: angles[i].length }, (_, k) => first[i] + k);
  const nodes = placeNodes(surface, net);
  const list: number[] = [];
  if (section.hasFloor) fan(0, ring(0), list);
  for (let i = 0; i + 1 < angles.length; i++)
    if (i !== band?.after) stitchRings(ring(i), angles[i], ring(i + 1), angles[i + 1], list);
  const own = band
    ? Uint32Array.from([
        ...ring(band.after),
        ...ring(band.after + 1),
        ...band.places.map((_, k) => first[first.length - 1] + k),
      ])
    : new Uint32Array();
  if (band) bandTriangles(band, own, nodes.positions, list);
  const triangles = Uint32Array.from(list);
  const ringAt = (s: number): Uint32Array => ring(lengths.findIndex((l) => Math.abs(l - s) < 1e-6));
  const [footNodes, lipNodes] = [ringAt(section.stands), ring(angles.length - 1)];
  standOnShelf(
    { ...nodes, triangles },
    form.foot.kind === 'disc' ? [lipNodes] : [footNodes, lipNodes],
    wish.scale,
  );
  const footEdge = ringAt(section.hasFloor ? section.wallFrom : 0);
  const mesh = { positions: nodes.positions, triangles };
  const carved = carvedTags(
    net,
    own,
    mesh,
    section.hasFloor ? [lipNodes, footEdge] : [lipNodes, footNodes],
    wish.triangles,
  );
  return {
    ...nodes,
    triangles,
    lipNodes,
    footNodes,
    footEdge,
    open: !section.hasFloor,
    tooFine,
    ...(carved ? { carved } : {}),
  };
};
