import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import type { Camera } from './camera.ts';
import { compareOutlines, type LayOver, type OutlineDifference } from './compare-outlines.ts';
import type { Outline } from './find-outline.ts';
import { predictedOutline } from './predicted-outline.ts';
import type { Ring } from './ring.ts';
import { roundBody } from './round-body.ts';

export interface FiredSeen extends LayOver {
  /** Degrees from x, as the piece stood in the kiln, to the side where the camera stood. */
  readonly from_deg: number;
  /** Where the lens stood; without it the foreseen outline is as from afar, and round pieces seem to have come out wider. */
  readonly camera?: Camera;
}

/**
 * An outline as it was photographed (corrected by hand or not) against the fired piece as it was foreseen.
 * @param fired the last frame of a firing with its triangles, fired size, as it stands in the kiln
 */
export const compareWithFired = (
  outline: Outline,
  fired: WallMesh,
  { from_deg, camera, turn }: FiredSeen,
): OutlineDifference & { readonly foreseen_m: Ring } => {
  const lens = camera && { ...camera, axis_x_m: roundBody(outline, camera).axis.x_m };
  const foreseen_m = predictedOutline(fired, { from_deg, camera: lens });
  return { ...compareOutlines(outline, foreseen_m, { turn }), foreseen_m };
};
