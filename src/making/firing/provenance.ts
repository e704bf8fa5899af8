import type { Clay } from '../clay/clay.ts';

/** In which sentences the screen and the print-out say where the numbers come from. */
export const GUESS_NOTE =
  'How soft this clay gets in the fire is a guess until a test bar of it has been fired.';

const NAMES: readonly (readonly [keyof Clay, string])[] = [
  ['sagViscosity', 'softness in the fire'],
  ['sintering', 'how fast it shrinks'],
  ['dryingShrinkage', 'drying shrinkage'],
  ['firingShrinkage', 'firing shrinkage'],
  ['boneDryDensity', 'bone-dry density'],
  ['throwingMoisture', 'water as thrown'],
  ['lossOnIgnition', 'weight lost in the fire'],
];

/** Which of the clay's values are guesses, published or measured; sentences to show as they are. */
export const provenanceOf = (clay: Clay): string[] => {
  const out: string[] = clay.sagViscosity.how === 'guess' ? [GUESS_NOTE] : [];
  const by = (how: string): string[] =>
    NAMES.filter(([key]) => (clay[key] as { how?: string }).how === how).map(([, name]) => name);
  for (const [how, lead] of [
    ['guess', 'Guesses'],
    ['published', 'Published values'],
    ['measured', 'Measured by you'],
  ] as const) {
    const names = by(how);
    if (names.length > 0) out.push(`${lead}: ${names.join(', ')}.`);
  }
  out.push('The pull of the kiln’s draught, uneven heat and the memory of the clay are not in it.');
  return out;
};
