import type { Ring } from '../../making/photo/ring.ts';
import type { Stretch } from '../../making/photo/weak-stretches.ts';
import { comparedTold, type OutlineTold, troublesTold } from '../words/outline-report.ts';
import { FORESEEN, HARDLY_SEEN, SEEN } from './legend.ts';
import type { Mark } from './picture.ts';
import { drawSheet } from './sheet.ts';
import type { Flat } from './svg.ts';

const flat = (ring: Ring): Flat =>
  Array.from({ length: ring.length / 2 }, (_, i) => [ring[2 * i], ring[2 * i + 1]] as const);

/** Runs that go over the end of the outline go on at its beginning. */
const runOf = (ring: Ring, { from, to }: Stretch): Flat => {
  const all = flat(ring);
  return to >= from ? all.slice(from, to + 1) : [...all.slice(from), ...all.slice(0, to + 1)];
};

/** Across counts from the middle of the outline, so that a line of the grid reads as a radius. */
const centred = (ring: Ring): Ring => {
  let [left, right] = [Infinity, -Infinity];
  for (let i = 0; i < ring.length; i += 2)
    [left, right] = [Math.min(left, ring[i]), Math.max(right, ring[i])];
  return ring.map((x, i) => (i % 2 === 0 ? x - (left + right) / 2 : x));
};

/** The photographed outline at true size, over the foreseen one where there is one. */
export const outlineSheet = (told: OutlineTold): string => {
  const { compared, outline, found, name, firing } = told;
  const seen = compared?.placed_m ?? centred(outline.points_m);
  const marks: Mark[] = [
    ...(compared ? [{ line: flat(compared.foreseen_m), closed: true, bad: false, look: FORESEEN }] : []),
    { line: flat(seen), closed: true, bad: false, look: SEEN },
    ...found.weak.map((run) => ({ line: runOf(seen, run), closed: false, bad: true, look: HARDLY_SEEN })),
  ];
  return drawSheet({
    title: firing ? `${firing.input.form.name}: as it came out and as foreseen` : `Outline from ${name}`,
    subtitle: `From ${name}. Four points in five within ±${told.forUnloading.plusMinus_mm} mm (a guess).`,
    what: 'outline from a photograph',
    legend: { kind: 'outline', band: compared !== undefined },
    pictures: [
      {
        caption: `Seen from ${told.forUnloading.from_deg}°`,
        before: [],
        after: [],
        marks,
        sentences: comparedTold(told),
      },
    ],
    notes: troublesTold(told),
  });
};
