import { clayValues } from '../../making/clay/provenance.ts';
import type { Estimate, Firing } from '../../making/firing/firing.ts';
import { GUESS_NOTE } from '../../making/firing/provenance.ts';
import { table } from '../table.ts';
import { measuresOf } from './measures-table.ts';
import { quantityOf } from './quantity.ts';
import { SAFETY_IN_BRIEF } from './safety.ts';

const rowsOf = (firing: Firing): string[][] => {
  const [wet, dry, fired] = [firing.wetMeasures, firing.dryMeasures, firing.firedMeasures].map(measuresOf);
  const keys = [...new Set([...Object.keys(fired), ...Object.keys(firing.estimates)])];
  return keys.map((key) => {
    const { label, unit, told } = quantityOf(key);
    const estimate = firing.estimates[key] as Estimate | undefined;
    const value = (measures: Readonly<Record<string, number>>) =>
      key in measures ? told(measures[key]) : '';
    const after = estimate === undefined ? value(fired) : told(estimate.value);
    const interval = estimate === undefined ? ['', ''] : [told(estimate.low), told(estimate.high)];
    return [unit === '' ? label : `${label}, ${unit}`, value(wet), value(dry), after, ...interval];
  });
};

/** A quick look has no intervals; two columns of dashes would only be noise. */
const measuresTable = (firing: Firing): string => {
  const head = ['', 'as thrown', 'bone dry', 'fired', 'low', 'high'];
  const known = Object.values(firing.estimates).some(({ low }) => Number.isFinite(low));
  const columns = known ? head.length : head.length - 2;
  return table(
    head.slice(0, columns),
    rowsOf(firing).map((row) => row.slice(0, columns)),
  );
};

const reasons = (firing: Firing): string[] => [
  ...new Set(Object.values(firing.estimates).map((estimate) => `Interval: ${estimate.why}`)),
];

const list = (title: string, sentences: readonly string[]): string =>
  sentences.length === 0 ? '' : `\n${title}\n${sentences.map((sentence) => `  - ${sentence}\n`).join('')}`;

/** The whole answer for one firing, to be read in a terminal. */
export const firingReport = (firing: Firing): string => {
  const { form, clay, schedule, setting } = firing.input;
  const head = `${form.name}, ${setting.attitude}`;
  return [
    `${head}\n${'='.repeat(head.length)}\n`,
    `${firing.verdict.text}\n${firing.margin ? `${firing.margin.text}\n` : ''}\nClay: ${clay.name}\nSchedule: ${schedule.name}\nHeat-work: ${firing.heatWork.text}\n\n`,
    measuresTable(firing),
    list(
      'Look out',
      firing.warnings.map(({ text }) => text),
    ),
    list('How sure', [...reasons(firing), ...firing.provenance]),
    `\n${SAFETY_IN_BRIEF}\n`,
  ].join('');
};

const withInterval = (key: string, { value, low, high }: Estimate): string => {
  const { unit, told } = quantityOf(key);
  const interval = Number.isFinite(low) && Number.isFinite(high) ? ` (${told(low)} to ${told(high)})` : '';
  return `${told(value)} ${unit}${interval}`;
};

/** What stands under a drawing of one firing. */
export const sentencesOf = ({ verdict, margin, estimates, dryMeasures, warnings }: Firing): string[] => [
  verdict.text,
  ...(margin ? [margin.text] : []),
  `From foot to lip ${quantityOf('height_m').told(dryMeasures.height_m)} mm before, ` +
    `${withInterval('height_m', estimates.height_m)} after.`,
  `Greatest sag ${withInterval('greatestSag_m', estimates.greatestSag_m)}.`,
  ...warnings.map(({ text }) => `Look out: ${text}`),
];

/** One line for all guessed values of a clay: a drawing has no room for the reason of each, the report has. */
const guessesOf = ({ input }: Firing): string[] => {
  const names = clayValues(input.clay)
    .filter(({ how }) => how === 'guess')
    .map(({ name }) => name.toLowerCase());
  return names.length === 0 ? [] : [`Guesses: ${names.join(', ')}.`];
};

/** What a reader of the drawing must know to trust it as far as it deserves. */
export const notesOf = (firings: readonly Firing[]): string[] => [
  ...new Set(
    firings.flatMap((firing) => [
      ...firing.provenance.filter((sentence) => sentence === GUESS_NOTE),
      ...reasons(firing),
      ...guessesOf(firing),
    ]),
  ),
  SAFETY_IN_BRIEF,
];
