import type { FormMesh } from '../form/mesh-form.ts';

/**
 * Thrown clay may turn back in drying and fire: the lip turns against the foot. By how much nobody can say beforehand (no
 * published figure was found), so there is no default; the artist sets what their own pieces show. It is a turn about the
 * axis, rising evenly from the foot's edge to the lip, and it is taken to be over before the clay is soft: the piece is fired
 * as it stands then.
 */
export const turnedBack = (mesh: FormMesh, untwist_deg: number): FormMesh => {
  const { along, footEdge } = mesh;
  const from = footEdge.length > 0 ? along[footEdge[0]] : 0;
  const positions = mesh.positions.slice();
  for (let n = 0; n < along.length; n++) {
    const share = Math.max(0, along[n] - from) / (1 - from);
    const angle = (share * untwist_deg * Math.PI) / 180;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const [x, y] = [mesh.positions[3 * n], mesh.positions[3 * n + 1]];
    positions[3 * n] = c * x - s * y;
    positions[3 * n + 1] = s * x + c * y;
  }
  return { ...mesh, positions };
};
