/**
 * Two hundred studios that never were, learning: how often what they believe holds the truth. Written to
 * docs/simulated-studios.md. Run by hand: npx tsx bench/simulated-studios.ts [how many = 200] [first seed = 1]
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { quantileOf } from '../src/kernel/numerics/normal.ts';
import { FIRING_SCATTER_K } from '../src/making/learning/posterior.ts';
import { unknownKiln } from '../src/making/learning/start.ts';
import {
  BEST,
  type Claim,
  coverage,
  kitchenOf,
  type Prediction,
  TRUTH,
  taleOf,
} from '../test/simulated-studios.ts';

const read = (name: string): unknown => JSON.parse(readFileSync(new URL(name, import.meta.url), 'utf8'));
const kitchen = kitchenOf({
  clay: read('../examples/studio-porcelain.clay.json'),
  schedule: read('../examples/cone-10-slow.schedule.json'),
  pieces: read('../test/simulated-films.json') as never,
});
const count = Number(process.argv[2] ?? 200);
const first = Number(process.argv[3] ?? 1);
const begun = Date.now();
const tales = Array.from({ length: count }, (_, i) => taleOf(kitchen, first + i));
const seconds = (Date.now() - begun) / 1000;

const claims = tales.flatMap((t) => t.claims);
const predictions = tales.flatMap((t) => t.predictions);
const grouped = <T>(list: readonly T[], by: (item: T) => string): Map<string, T[]> => {
  const groups = new Map<string, T[]>();
  for (const item of list) groups.set(by(item), [...(groups.get(by(item)) ?? []), item]);
  return groups;
};
const named = <T extends Claim>(list: readonly T[]): Map<string, T[]> => grouped(list, (c) => c.what);
const percent = (x: number): string => `${(100 * x).toFixed(0)} %`;
const half = (c: Claim): number => (c.high - c.low) / 2;
const median = (x: readonly number[]): number => quantileOf(x, 0.5);
const unit = (what: string, x: number): string =>
  what.endsWith('kiln') && !what.includes('softness') ? `${x.toFixed(1)} °C` : `${(100 * x).toFixed(1)} %`;

const claimRow = ([what, list]: [string, Claim[]]): string => {
  const near = list.filter((c) => Math.abs(c.middle - c.truth) < 0.1).length / list.length;
  const soft = what.includes('softness') ? percent(near) : '';
  const bias = list.reduce((s, c) => s + c.middle - c.truth, 0) / list.length;
  return `| ${what} | ${percent(coverage(list))} | ±${unit(what, median(list.map(half)))} | ${soft} | ${unit(what, bias)} |`;
};

const within = (list: readonly Prediction[], mm = 1): number =>
  list.filter((p) => Math.abs(p.middle - p.truth) <= mm).length / list.length;
const eightOfTen = (what: string): number =>
  tales.filter((t) => within(t.predictions.filter((p) => p.what === what)) >= 0.8).length / tales.length;
const predictionRow = (what: string, where: string, list: readonly Prediction[]): string => {
  const sure =
    list[0].what === BEST ? ' | ' : `${percent(coverage(list))} | ±${median(list.map(half)).toFixed(2)} mm`;
  return `| ${what} | ${where} | ${list.length} | ${sure} | ${percent(within(list))} |`;
};
const predictionRows = ([what, list]: [string, Prediction[]]): string[] => [
  predictionRow(what, 'all', list),
  predictionRow(
    '',
    'those that drop 1 mm and more',
    list.filter((p) => p.truth >= 1),
  ),
  ...[...grouped(list, (p) => `${p.form.replace('.form.json', '')}, ${p.attitude}`)]
    .sort()
    .map(([where, some]) => predictionRow('', where, some)),
];

const ofWhat = <T extends Claim>(list: readonly T[], what: string): T[] =>
  list.filter((c) => c.what === what);
const shares = [...named(claims).values()].map(coverage);
const asAsked = (x: number): boolean => x >= 0.745 && x < 0.855;
const honest = shares.filter(asAsked).length;
const others = [...named(claims)]
  .map(([what, list]) => [what, coverage(list)] as const)
  .filter(([, share]) => !asAsked(share))
  .map(([what, share]) => `${what}, ${percent(share)}`);
const nearly = (what: string): string => {
  const list = ofWhat(claims, what);
  return percent(list.filter((c) => Math.abs(c.middle - c.truth) < 0.1).length / list.length);
};
const TEN = 'lip drop after ten pieces';

const page = `# Simulated studios

Written by \`npx tsx bench/simulated-studios.ts ${count} ${first}\`: ${count} studios, seeds ${first} to ${first + count - 1}. Everything in them is drawn by dice; nothing here was
measured in a kiln. They show whether the learning is honest about itself, not whether porcelain behaves like the solver.

## What is true in them

| what | how it is drawn (standard deviations unless said) |
|---|---|
| softness of the clay | the clay file's own guess: within a factor ${kitchen.clay.sagViscosity.factor80}, four times in five |
| activation energies of sag and of sintering | ±${percent(TRUTH.activation_share)} each; the learner keeps the file's |
| rate of sintering | factor e^±${TRUTH.sinteringRate_ln}; the learner keeps the file's |
| drying and firing shrinkage, weight | as the firing's own trials: 1 %, 1 %, 2.2 % four times in five |
| two kilns | off by ±${unknownKiln('').sd_K.toFixed(1)} °C for good, and ±${FIRING_SCATTER_K} °C from firing to firing |
| walls | thrown ±${percent(TRUTH.wall_ln)} otherwise than drawn, piece by piece: each truth is a film of that wall, not a shifted clock |
| sizes, roundness of the lip | otherwise than drawn by ±${percent(TRUTH.size80_share)} and ±${(100 * TRUTH.oval80_share).toFixed(1)} % of the width, four times in five |
| measuring | ±${TRUTH.measuring80_mm} mm four times in five, and one reading in ${Math.round(1 / TRUTH.slips)} a slip of ${TRUTH.slip_mm} mm |
| bars | 120 mm span ±${TRUTH.barSpan_mm}, 6 mm thick ±${TRUTH.barThickness_mm}, sag ±${TRUTH.barSag_mm} mm; witness cones ±${TRUTH.cones80_K} °C four times in five |

The truth of pieces is fired on 3,000 triangles, the learner runs 1,400 (no inverse crime); bars are made and read by the one small-sag formula,
so these figures say nothing of how bars are read (for that see test-pieces.md). Nine pieces: four forms on their side, three rim down or wide and
open, two upright; each studio fires five in one kiln and five in the other, measures height, both widths of the lip and its
greatest drop, and then makes ten new ones.

## Against what was asked

- *80 % intervals cover 75 to 85 % of truths.* ${honest} of the ${shares.length} beliefs below do, and the lip drops of new pieces, ${percent(coverage(ofWhat(predictions, TEN)))} after ten pieces.
  ${others.length > 0 ? `Outside: ${others.join('; ')}.` : ''}
- *After three bars viscosity within ±10 %.* Share of studios in which it is: beside witness cones ${nearly('three bars with cones: softness')}, as it acts in the bars' own kiln
  ${nearly('three bars: softness in the big kiln')}, by bars alone **${nearly('three bars: softness')}**: three bars in one kiln cannot tell a soft clay from a hot kiln.
- *After ten pieces lip drop within ±1 mm for 8 of 10 new ones.* ${percent(within(ofWhat(predictions, TEN)))} of all new pieces; in ${percent(eightOfTen(TEN))} of single studios.
  Pieces on their side that drop a centimetre miss it more often; with clay and kilns known exactly it would be ${percent(within(ofWhat(predictions, BEST)))}, since walls
  thrown 5 % otherwise than drawn are 10 % of the drop.

## What is believed

"Holds the truth" should be 80 % (75 to 85 % asked); with ${count} studios the share itself is known to ±${(128 * Math.sqrt(0.16 / count)).toFixed(0)} % four times in five.
Softness is counted as it acts in the heat; "in its kiln" takes the kiln's usual offset with it, which is what a prediction
needs. Bias is the mean of believed less true.

| belief | holds the truth | its half width, median | within ±10 % | bias |
|---|---|---|---|---|
${[...named(claims)].map(claimRow).join('\n')}

## Lip drop of new pieces

Greatest lip drop, no error of measuring on top; none of them rim down, whose lip lies on the shelf already. Asked: 8 of 10 within ±1 mm after ten measured pieces.

| when | piece | number | holds the truth | half width, median | within ±1 mm |
|---|---|---|---|---|---|
${[...named(predictions)].flatMap(predictionRows).join('\n')}

"If clay and kilns were known" takes the true clay, kiln and mesh and the wall as drawn: what is missed then is walls and the one
firing, and no learning mends it. Drops are counted as a maker measures them, from the shrinkage in the clay file, so that
sizes not yet known count in "after nothing".

Studios in which 8 of the 10 new pieces or more came within ±1 mm: ${[...named(predictions).keys()].map((what) => `${percent(eightOfTen(what))} ${what.replace('lip drop ', '')}`).join(', ')}.
`;
console.log(page);
console.log(`${seconds.toFixed(0)} s`);
if (count >= 200) writeFileSync(new URL('../docs/simulated-studios.md', import.meta.url), page);
