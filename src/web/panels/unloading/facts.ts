import { type ComponentChild, h } from 'preact';
import type { Unloading } from '../../../making/learning/unloading.ts';
import type { Studio } from '../../state/page.ts';
import type { DraftUnloading } from '../../state/unloading-draft.ts';
import { brief, type Degrees, numberTyped } from '../../words.ts';

type Change = (part: Partial<DraftUnloading>) => void;

const OTHER = '';

const kilnsOf = (kept: Readonly<Record<string, Unloading>>): string[] => [
  ...new Set(Object.values(kept).map(({ kiln }) => kiln)),
];

const labelled = (name: string, id: string, control: ComponentChild) =>
  h('div', { class: 'fact' }, h('label', { for: id }, name), control);

const kilnField = (draft: DraftUnloading, kilns: readonly string[], change: Change) => {
  const known = kilns.includes(draft.kiln);
  return [
    kilns.length > 0 &&
      labelled(
        'Kiln',
        'fact-kiln',
        h(
          'select',
          {
            id: 'fact-kiln',
            'data-field': 'unloading.kiln',
            value: known ? draft.kiln : OTHER,
            onChange: (event: Event) => change({ kiln: (event.target as HTMLSelectElement).value }),
          },
          kilns.map((kiln) => h('option', { key: kiln, value: kiln }, kiln)),
          h('option', { value: OTHER }, 'another kiln'),
        ),
      ),
    !known &&
      labelled(
        kilns.length > 0 ? 'Its name' : 'Kiln',
        'fact-kiln-name',
        h('input', {
          id: 'fact-kiln-name',
          type: 'text',
          maxLength: 60,
          placeholder: 'the same words each time',
          'data-field': 'unloading.kiln-name',
          value: draft.kiln,
          onInput: (event: Event) => change({ kiln: (event.target as HTMLInputElement).value }),
        }),
      ),
  ];
};

const select = (
  name: string,
  field: 'clay' | 'schedule',
  draft: DraftUnloading,
  things: Readonly<Record<string, { readonly name: string }>>,
  change: Change,
) =>
  labelled(
    name,
    `fact-${field}`,
    h(
      'select',
      {
        id: `fact-${field}`,
        'data-field': `unloading.${field}`,
        value: draft[field],
        onChange: (event: Event) => change({ [field]: (event.target as HTMLSelectElement).value }),
      },
      Object.entries(things).map(([key, thing]) => h('option', { key, value: key }, thing.name)),
    ),
  );

const WITNESS_PLUS_MINUS_C = 5;
const FROM = 'witness cones';

/** Witness cones tell how hot the ware got: one number more to learn from. */
const witness = ({ offset }: DraftUnloading, degrees: Degrees, change: Change) => {
  const times = degrees === 'F' ? 1.8 : 1;
  return h(
    'details',
    { class: 'witness', open: offset !== undefined },
    h('summary', null, 'Witness cones, or a second thermometer'),
    labelled(
      `Ware got hotter than the schedule says by, °${degrees} (minus: cooler)`,
      'fact-offset',
      h('input', {
        id: 'fact-offset',
        type: 'text',
        inputMode: 'text',
        'data-field': 'unloading.offset',
        value: offset ? brief(offset.hotter_C * times, 0).replace('−', '-') : '',
        onChange: (event: Event) => {
          const typed = numberTyped((event.target as HTMLInputElement).value);
          change({
            offset:
              typed === undefined
                ? undefined
                : { hotter_C: typed / times, plusMinus_C: WITNESS_PLUS_MINUS_C, from: FROM },
          });
        },
      }),
    ),
    h(
      'p',
      { class: 'hint' },
      `Taken as right within ± ${brief(WITNESS_PLUS_MINUS_C * times, 0)} °${degrees}, four times in five (a guess).`,
    ),
  );
};

/** Which kiln, which day, what it was set to. */
export const Facts = ({
  studio,
  kept,
  draft,
  degrees,
  fixed,
  change,
}: {
  readonly studio: Studio;
  readonly kept: Readonly<Record<string, Unloading>>;
  readonly draft: DraftUnloading;
  readonly degrees: Degrees;
  readonly fixed: boolean;
  readonly change: Change;
}) => {
  if (fixed)
    return h(
      'section',
      { class: 'facts fixed', 'aria-label': 'The firing' },
      h('h2', null, draft.kiln),
      h('p', null, h('time', { dateTime: draft.date }, draft.date)),
      h('p', null, studio.schedules[draft.schedule]?.name ?? draft.schedule),
      h('p', null, studio.clays[draft.clay]?.name ?? draft.clay),
      draft.offset &&
        h(
          'p',
          null,
          `By ${draft.offset.from} ${brief(Math.abs(draft.offset.hotter_C) * (degrees === 'F' ? 1.8 : 1), 0)} °${degrees} ${draft.offset.hotter_C < 0 ? 'cooler' : 'hotter'} than set`,
        ),
      draft.note !== undefined && h('p', { class: 'hint' }, draft.note),
    );
  return h(
    'section',
    { class: 'facts', 'aria-label': 'The firing' },
    h('h2', null, 'The firing'),
    kilnField(draft, kilnsOf(kept), change),
    labelled(
      'Day it was opened',
      'fact-date',
      h('input', {
        id: 'fact-date',
        type: 'date',
        'data-field': 'unloading.date',
        value: draft.date,
        onChange: (event: Event) => change({ date: (event.target as HTMLInputElement).value }),
      }),
    ),
    select('Schedule', 'schedule', draft, studio.schedules, change),
    Object.keys(studio.clays).length > 1 && select('Clay', 'clay', draft, studio.clays, change),
    witness(draft, degrees, change),
  );
};
