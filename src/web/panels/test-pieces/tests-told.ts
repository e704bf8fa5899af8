import { type ComponentChild, h } from 'preact';
import { type Clay, parseClay } from '../../../making/clay/clay.ts';
import type { Mean } from '../../../making/clay/test-pieces/mean-of.ts';
import type { FiringOffset, TestPiecesFinding } from '../../../making/read-test-pieces.ts';
import type { Session } from '../../session.ts';
import { workOf } from '../../state/page.ts';
import type { TestsDesk } from '../../state/tests-desk.ts';
import { type Degrees, inDegrees, inLengths, type Lengths, plain } from '../../words.ts';
import { saveText } from '../save.ts';
import { ViscosityChart } from './viscosity-chart.ts';

const MOST_NAME = 80;
const MEASURED = ', measured';

/** Another clay beside the one it was measured from: nothing is overwritten. */
const newClay = ({ clay }: TestPiecesFinding): Clay =>
  parseClay({
    ...clay,
    name: clay.name.endsWith(MEASURED)
      ? clay.name
      : `${clay.name.slice(0, MOST_NAME - MEASURED.length)}${MEASURED}`,
  });

const clayFile = (clay: Clay): string =>
  `${clay.name
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '')}.clay.json`;

const plusMinus = ({ value, low, high }: Mean, places: number): string =>
  `${plain(value, places)} ± ${plain((high - low) / 2, places)}`;

const shrinkages = ({ shrinkage }: TestPiecesFinding) => {
  if (!shrinkage) return null;
  const cell = (mean: Mean | undefined) => h('td', null, mean ? plusMinus(mean, 2) : '');
  return h(
    'table',
    { class: 'changes', 'data-shrinkages': shrinkage.directions.length },
    h(
      'thead',
      null,
      h(
        'tr',
        null,
        h('th', { scope: 'col' }, 'Shrinkage, %'),
        ['drying', 'firing', 'in all'].map((name) => h('th', { key: name, scope: 'col' }, name)),
      ),
    ),
    h(
      'tbody',
      null,
      shrinkage.directions.map((d) =>
        h(
          'tr',
          { key: d.direction },
          h('th', { scope: 'row' }, d.direction),
          cell(d.drying_percent),
          cell(d.firing_percent),
          cell(d.total_percent),
        ),
      ),
    ),
  );
};

const absorptions = ({ absorption }: TestPiecesFinding) =>
  absorption?.bulkDensity_kg_m3 === undefined
    ? null
    : h(
        'dl',
        { class: 'weighed' },
        (
          [
            ['Water taken up, %', absorption.absorption_percent, 2],
            ['Open pores, %', absorption.openPorosity_percent, 2],
            ['Fired density, kg/m³', absorption.bulkDensity_kg_m3, 0],
          ] as const
        ).map(([name, mean, places]) => [
          h('dt', { key: name }, name),
          h('dd', { key: `${name}=` }, plusMinus(mean, places)),
        ]),
      );

/** A difference of temperatures: its degrees are smaller in °F, and begin at the same nought. */
const offsetTold = ({ finding }: FiringOffset, degrees: Degrees): string => {
  const times = degrees === 'F' ? 1.8 : 1;
  const by = (K: number): string =>
    `${plain(Math.abs(K) * times)} °${degrees} ${K < 0 ? 'cooler' : 'hotter'}`;
  if (finding.kind === 'contradictory') return 'its cones contradict one another and say nothing';
  if (finding.kind === 'at least')
    return `${by(finding.hotter_K)} than its thermometer said, or more: all cones are down`;
  if (finding.kind === 'at most')
    return `${by(finding.hotter_K)} than its thermometer said, or less: all cones stand`;
  const half = plain(Math.max(1, finding.plusMinus80_K ?? 0) * times);
  return `${by(finding.hotter_K)} than its thermometer said, ± ${half} °${degrees}`;
};

const offsets = ({ offsets: list }: TestPiecesFinding, degrees: Degrees) =>
  list.length === 0
    ? null
    : h(
        'ul',
        { class: 'offsets' },
        list.map((o) =>
          h(
            'li',
            { key: o.firing, 'data-offset': o.finding.hotter_K.toFixed(1), 'data-kind': o.finding.kind },
            h('b', null, o.firing),
            `, ${o.kiln}: ${offsetTold(o, degrees)}.`,
          ),
        ),
      );

const part = (title: string, ...inside: ComponentChild[]) =>
  inside.some((i) => i !== null && i !== false && i !== undefined)
    ? h('section', { class: 'told-part', 'aria-label': title }, h('h3', null, title), inside)
    : null;

const redList = (lines: readonly string[], told: (text: string) => string) =>
  lines.length > 0 &&
  h(
    'ul',
    { class: 'against', role: 'alert' },
    lines.map((text) => h('li', { key: text, class: 'fault', 'data-contradiction': true }, told(text))),
  );

const useIt = (session: Session, finding: TestPiecesFinding, told: (text: string) => string) => {
  const work = workOf(session.page());
  if (finding.changed.length === 0)
    return h(
      'p',
      { class: 'hint' },
      'Nothing of the clay changes by these: they are of the kiln alone, or only bounds.',
    );
  if (finding.disagreements.length > 0)
    return h(
      'div',
      { role: 'alert' },
      h('p', { class: 'fault' }, 'This clay cannot be used until one of these is mended:'),
      redList(finding.disagreements, told),
    );
  const clay = newClay(finding);
  const inUse = JSON.stringify(work.clay) === JSON.stringify(clay);
  return h(
    'div',
    { class: 'use-clay' },
    h(
      'div',
      { class: 'row' },
      h(
        'button',
        {
          type: 'button',
          class: 'main',
          'data-do': 'use-clay',
          disabled: inUse,
          onClick: () => session.replace({ ...work, clay }),
        },
        inUse ? 'In use on the bench' : 'Use this clay',
      ),
      h(
        'button',
        {
          type: 'button',
          'data-do': 'save-clay',
          onClick: () => saveText(`${JSON.stringify(clay, null, 2)}\n`, clayFile(clay)),
        },
        'Save this clay as a file',
      ),
    ),
    h(
      'p',
      { class: 'hint' },
      inUse
        ? 'The bench fires with it now; Undo there takes it back. It is a new clay: the file it was measured from stays as it is. Saved beside your forms, it is there for every piece.'
        : `It becomes “${clay.name}”, a clay of its own; the one it was measured from stays as it is.`,
    ),
  );
};

const SUPERSCRIPT = '⁰¹²³⁴⁵⁶⁷⁸⁹';
/** `6.23e+9` as it is written on paper: 6.23 × 10⁹. */
const powers = (text: string): string =>
  text.replace(
    /(\d(?:\.\d+)?)e\+?(\d+)/g,
    (_, figures: string, ten: string) =>
      `${figures} × 10${[...ten].map((d) => SUPERSCRIPT[Number(d)]).join('')}`,
  );

/** What is new, the softness first: it moves a piece most. */
const changedIn = ({ changed, sag }: TestPiecesFinding): readonly string[] => {
  const first = sag?.changed ?? [];
  return [...first, ...changed.filter((text) => !first.includes(text))];
};

interface Props {
  readonly session: Session;
  readonly desk: TestsDesk;
  readonly lengths: Lengths;
  readonly degrees: Degrees;
}

/** What the pieces say: of the clay before and after, of the kilns, and where they contradict one another. */
export const TestsTold = ({ session, desk, lengths, degrees }: Props) => {
  const { told, reading, faults, trouble, draft } = desk.now();
  const status = reading
    ? 'Reading…'
    : Object.keys(faults).length > 0
      ? 'Something will not do; it is said in red beside its number.'
      : told
        ? undefined
        : (trouble ?? 'What they say is drawn here as soon as one piece is measured.');
  if (!told)
    return h(
      'section',
      { class: 'tests-told', 'aria-label': 'What they say' },
      h('h2', null, 'What they say'),
      h('p', { class: trouble ? 'fault' : 'hint', role: 'status' }, status),
      Object.values(faults).map((f) =>
        h(
          'p',
          { key: f.field, class: 'fault', 'data-fault': f.field },
          `${f.field}: ${f.value === '' ? 'nothing' : f.value} will not do; ${f.expected}.`,
        ),
      ),
    );
  const { finding } = told;
  const mm = (text: string): string => inLengths(text, lengths);
  return h(
    'section',
    {
      class: `tests-told${reading ? ' stale' : ''}`,
      'aria-label': 'What they say',
      'aria-live': 'polite',
      'data-contradictions': finding.contradictions.length,
    },
    h('h2', null, 'What they say', reading && h('span', { class: 'hint' }, ' reading again…')),
    redList(finding.contradictions, mm),
    h(ViscosityChart, { told, degrees, leftOut: draft.leaveOut }),
    useIt(session, finding, mm),
    finding.changed.length > 0 &&
      h(
        'ul',
        { class: 'changed' },
        changedIn(finding).map((text) => h('li', { key: text }, powers(inDegrees(mm(text), degrees)))),
      ),
    part('Sizes and weights', shrinkages(finding), absorptions(finding)),
    part('The kiln’s thermometer', offsets(finding, degrees)),
    finding.notes.length > 0 &&
      h(
        'details',
        { class: 'hangs-on', open: finding.sag?.readings.some((r) => r.kind !== 'value') },
        h('summary', null, `What to know of them (${finding.notes.length})`),
        h(
          'ul',
          null,
          finding.notes.map((text) => h('li', { key: text }, mm(text))),
        ),
      ),
  );
};
