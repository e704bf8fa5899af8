import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import type { Struts } from './carving/struts.ts';

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
  /** What carving did to the mesh; left out when nothing is cut through. */
  readonly carved?: CarvedTags;
}

export interface CarvedTags {
  /** Nodes round each opening, counter-clockwise seen from outside. */
  readonly rims: readonly Uint32Array[];
  /** Openings (places in the form's carving list) too many or too fine for so few triangles; left out whole. */
  readonly leftOut: readonly number[];
  /** The most poorly drawn strut, if any has fewer than three triangles across. */
  readonly coarseStruts?: Struts;
  /** Set when the openings needed clearly more triangles than were wished for. */
  readonly made?: { readonly triangles: number; readonly wished: number };
}

export type FormMesh = WallMesh & FormTags;

export interface MeshWish {
  /** About how many triangles, 200 to 200,000. */
  readonly triangles: number;
  /** Every length of the form times this: 1 as drawn, the linear drying or firing shrinkage factor otherwise. */
  readonly scale: number;
  /** Rather more triangles than an opening left out: for a coarse mesh that is to be compared with a fine one. */
  readonly keepCarving?: boolean;
}
