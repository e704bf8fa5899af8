import type { Clay } from '../clay/clay.ts';
import { clayValues } from '../clay/provenance.ts';

/** In which sentences the screen and the print-out say where the numbers come from. */
export const GUESS_NOTE =
  'How soft this clay gets in the fire is a guess until a test bar of it has been fired.';
const leftOut = (hotSide: boolean): string =>
  `Not in it: a wall thrown otherwise than drawn, draughts${hotSide ? '' : ' and uneven heat'} in the kiln, glaze, and what the clay remembers of the throwing.`;

/** Where the numbers come from, in sentences to show as they are; the most telling first. */
export const provenanceOf = (clay: Clay, hotSide = false): string[] => [
  ...(clay.sagViscosity.how === 'guess' ? [GUESS_NOTE] : []),
  ...clayValues(clay).map((v) => `${v.name}: ${v.value} (${v.from}).`),
  leftOut(hotSide),
];
