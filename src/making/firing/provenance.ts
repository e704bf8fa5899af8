import type { Clay } from '../clay/clay.ts';
import { clayValues } from '../clay/provenance.ts';
import { frictionOf } from './set-on-props.ts';
import type { Setting } from './setting.ts';

/** In which sentences the screen and the print-out say where the numbers come from. */
export const GUESS_NOTE =
  'How soft this clay gets in the fire is a guess until a test bar of it has been fired.';
const leftOut = (hotSide: boolean): string =>
  `Not in it: a wall thrown otherwise than drawn, draughts${hotSide ? '' : ' and uneven heat'} in the kiln, glaze, and what the clay remembers of the throwing.`;

/** How hard props and shelf hold it, where that number is nobody's measurement; empty where nothing depends on it. */
export const frictionGuess = (setting: Setting): string[] => {
  const used = frictionOf(setting);
  if (used === undefined || setting.props.length === 0) return [];
  if (setting.friction === undefined)
    return [
      `How well props and shelf hold it is a guess: it just slides on a slope of ${used} (rise over run).`,
    ];
  return setting.friction < used
    ? [
        `Held as on a slope of ${used} (rise over run), not ${setting.friction}: nothing in a kiln is taken as smoother, a guess.`,
      ]
    : [];
};

/** Where the numbers come from, in sentences to show as they are; the most telling first. */
export const provenanceOf = (clay: Clay, setting: Setting): string[] => [
  ...(clay.sagViscosity.how === 'guess' ? [GUESS_NOTE] : []),
  ...frictionGuess(setting),
  ...clayValues(clay).map((v) => `${v.name}: ${v.value} (${v.from}).`),
  leftOut((setting.hotSide?.difference_C ?? 0) > 0),
];
