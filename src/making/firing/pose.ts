import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import type { SetDown } from './set-down.ts';

/** Where a piece upright as drawn comes to stand, as a turn and a shift: for what is drawn on it. */
export interface Pose {
  /** Rows are where x, y and z of the piece as drawn point (see `SetDown`). */
  readonly turn: readonly number[];
  readonly shift_m: readonly [number, number, number];
}

/** The pose of a mesh that was turned by `turn` and now has its nodes at `positions`. */
export const poseOf = (mesh: WallMesh, { turn, positions }: Pick<SetDown, 'turn' | 'positions'>): Pose => {
  const [x, y, z] = mesh.positions;
  const shift = [0, 1, 2].map((c) => positions[c] - (turn[c] * x + turn[3 + c] * y + turn[6 + c] * z));
  return { turn: Array.from(turn), shift_m: shift as [number, number, number] };
};
