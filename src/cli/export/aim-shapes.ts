import { solidOf } from '../../kernel/mesh/solid.ts';
import type { Aim } from '../../making/firing/aim/aim-contract.ts';
import type { Makeable } from '../../making/firing/makeable/makeable-contract.ts';
import { glbOf } from './gltf.ts';

/** What to make (bone dry), what is wanted and what comes out, as three nodes; what hands make of it as a fourth. */
export const glbOfAim = ({
  aim,
  hands,
}: {
  readonly aim: Aim;
  readonly hands: Makeable | undefined;
}): Promise<Uint8Array> =>
  glbOf([
    { name: 'to make', mesh: solidOf(aim.green), colour: [0.45, 0.4, 0.34, 0.3] },
    { name: 'wanted', mesh: solidOf(aim.wanted), colour: [0.4, 0.5, 0.6, 0.4] },
    { name: 'fired', mesh: solidOf(aim.fired), colour: [0.88, 0.86, 0.82, 1] },
    ...(hands?.fired
      ? [{ name: 'made by hand, fired', mesh: solidOf(hands.fired), colour: [0.88, 0.8, 0.72, 1] as const }]
      : []),
  ]);
