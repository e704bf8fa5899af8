import { clayValues } from '../../making/clay/provenance.ts';
import type { Estimate, Firing } from '../../making/firing/firing.ts';
import { PROPS_CAUTION } from '../../making/firing/props/table.ts';
import { frictionGuess, GUESS_NOTE } from '../../making/firing/provenance.ts';
import { handlingOfFiring } from '../../making/handling/handled-firing.ts';
import { tellHandling } from '../../making/handling/tell-handling.ts';
import type { Shown } from '../shown.ts';
import { table } from '../table.ts';
import { measuresOf } from './measures-table.ts';
import { quantityOf } from './quantity.ts';
import { SAFETY_IN_BRIEF } from './safety.ts';
import { restsTold, settingTold } from './setting.ts';

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
  ...new Set(Object.values(firing.estimates).map((estimate) => `Interval: ${estimate.why}.`)),
];

export const list = (title: string, sentences: readonly string[]): string =>
  sentences.length === 0 ? '' : `\n${title}\n${sentences.map((sentence) => `  - ${sentence}\n`).join('')}`;

/** How the trials of what is not known went, where some of them did not come through. */
const trialsTold = ({ trials }: Firing): string[] => {
  if (!trials) return [];
  const { count, fell, met, touched } = trials;
  const ends = [
    [fell, 'it falls'],
    [met, 'a wall meets itself'],
    [touched, 'the lip comes down to the shelf'],
  ] as const;
  const told = ends.filter(([n]) => n > 0).map(([n, what]) => `in ${n} ${what}`);
  return told.length === 0 ? [] : [`Of ${count} firings as clay and kiln might have it, ${told.join(', ')}.`];
};

/** What a firing says in sentences, before any table. */
const said = (firing: Firing): string[] => {
  const rests = restsTold(firing);
  return [
    firing.verdict.text,
    ...(firing.margin ? [firing.margin.text] : []),
    ...trialsTold(firing),
    ...(rests ? [rests] : []),
  ];
};

export const inHandTold = (firing: Firing): string[] => {
  const { dry, fired } = handlingOfFiring(firing);
  return [...new Set([...tellHandling(dry).text, ...tellHandling(fired).text])];
};

/** The whole answer for one firing, to be read in a terminal. */
export const firingReport = ({ firing, called }: Shown, inHand = false): string => {
  const { form, clay, schedule, setting } = firing.input;
  const head = `${form.name}, ${called}`;
  const facts = [
    `Setting: ${settingTold(setting)}`,
    `Clay: ${clay.name}`,
    `Schedule: ${schedule.name}`,
    `Heat-work: ${firing.heatWork.text}`,
  ];
  return [
    `${head}\n${'='.repeat(head.length)}\n`,
    `${said(firing).join('\n')}\n\n${facts.join('\n')}\n\n`,
    measuresTable(firing),
    inHand ? list('In the hand', inHandTold(firing)) : '',
    list(
      'Look out',
      firing.warnings.map(({ text }) => text),
    ),
    list('How sure', [...reasons(firing), ...firing.provenance]),
    `\n${setting.props.length > 0 ? `${PROPS_CAUTION}\n` : ''}${SAFETY_IN_BRIEF}\n`,
  ].join('');
};

const withInterval = (key: string, { value, low, high }: Estimate): string => {
  const { unit, told } = quantityOf(key);
  const interval = Number.isFinite(low) && Number.isFinite(high) ? ` (${told(low)} to ${told(high)})` : '';
  return `${told(value)} ${unit}${interval}`;
};

/** What stands under a drawing of one firing. */
export const sentencesOf = (firing: Firing): string[] => [
  ...said(firing),
  `From foot to lip ${quantityOf('height_m').told(firing.dryMeasures.height_m)} mm before, ` +
    `${withInterval('height_m', firing.estimates.height_m)} after.`,
  `Greatest sag ${withInterval('greatestSag_m', firing.estimates.greatestSag_m)}.`,
  ...firing.warnings.map(({ text }) => `Look out: ${text}`),
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
      ...frictionGuess(firing.input.setting),
      ...reasons(firing),
      ...guessesOf(firing),
    ]),
  ),
  ...(firings.some(({ input }) => input.setting.props.length > 0) ? [PROPS_CAUTION] : []),
  SAFETY_IN_BRIEF,
];
