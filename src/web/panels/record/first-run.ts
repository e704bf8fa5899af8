import { h } from 'preact';
import { useState } from 'preact/hooks';
import type { Session } from '../../session.ts';
import { askRecord, inWords } from '../../state/record/ask.ts';
import { numberTyped } from '../../words.ts';
import { silhouette } from '../unloading/silhouette.ts';
import { Tiles } from '../unloading/tiles.ts';

interface Answers {
  readonly name: string;
  readonly lengths: 'mm' | 'in';
  readonly weights: 'g' | 'lb';
  readonly temperatures: 'C' | 'F';
  readonly currency: string;
  readonly zone: string;
  readonly clay: string;
  readonly kiln: string;
  readonly width: string;
  readonly depth: string;
  readonly height: string;
  readonly form: string;
}

const INCHES = /^en-(US|LR|MM)\b/i;
const OWN_ZONE = Intl.DateTimeFormat().resolvedOptions().timeZone;

const firstAnswers = (session: Session): Answers => {
  const { studio } = session.page();
  const inches = INCHES.test(navigator.language);
  return {
    name: 'My studio',
    lengths: inches ? 'in' : 'mm',
    weights: inches ? 'lb' : 'g',
    temperatures: inches ? 'F' : 'C',
    currency: inches ? 'USD' : 'EUR',
    zone: OWN_ZONE,
    clay: studio.studio.clay,
    kiln: 'My kiln',
    width: '',
    depth: '',
    height: '',
    form: studio.studio.form,
  };
};

const MM_PER_IN = 25.4;

/** The kiln's inside, where it was said; it is a note for later, so nothing of it is needed. */
const chamberOf = ({ width, depth, height, lengths }: Answers): Record<string, number> | undefined => {
  const [w, d, up] = [width, depth, height].map((text) => numberTyped(text));
  if (w === undefined || d === undefined || up === undefined) return undefined;
  const [width_mm, depth_mm, height_mm] = [w, d, up].map((size) =>
    lengths === 'mm' ? size : Math.round(size * MM_PER_IN * 10) / 10,
  );
  return { width_mm: width_mm!, depth_mm: depth_mm!, height_mm: height_mm! };
};

const begin = async (answers: Answers, session: Session): Promise<void> => {
  const { studio } = session.page();
  const { name, lengths, weights, temperatures, currency, zone, clay, kiln, form } = answers;
  const chamber = chamberOf(answers);
  await askRecord('/settings', 'PATCH', {
    name,
    lengths,
    weights,
    temperatures,
    currency: currency.toUpperCase(),
    zone,
    clay,
    kiln: 'kiln',
  });
  await askRecord('/sheets', 'POST', { kind: 'clay', key: clay, json: studio.clays[clay] });
  await askRecord('/sheets', 'POST', {
    kind: 'kiln',
    key: 'kiln',
    json: { name: kiln, ...(chamber ? { chamber } : {}) },
  });
  // Last, for with a form in it the record no longer counts as empty.
  await askRecord('/sheets', 'POST', { kind: 'form', key: form, json: studio.forms[form] });
  session.update((p) => ({ ...p, lengths, degrees: temperatures }));
};

/** An empty record: four short answers and the first piece can be begun. */
export const FirstRun = ({ session, done }: { readonly session: Session; readonly done: () => void }) => {
  const { studio } = session.page();
  const [answers, setAnswers] = useState(() => firstAnswers(session));
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const change = (part: Partial<Answers>): void => setAnswers({ ...answers, ...part });
  const box = (key: keyof Answers, says: string, more: Record<string, unknown> = {}) =>
    h(
      'label',
      { key },
      says,
      h('input', {
        type: 'text',
        value: answers[key],
        'data-field': `first.${key}`,
        onInput: (event: Event) => change({ [key]: (event.target as HTMLInputElement).value }),
        ...more,
      }),
    );
  const pick = (
    key: 'lengths' | 'weights' | 'temperatures',
    label: string,
    of: readonly [string, string][],
  ) =>
    h(
      'div',
      { key, class: 'entry-field' },
      h('span', { 'aria-hidden': true }, label),
      h(Tiles, {
        label,
        field: `first.${key}`,
        chosen: answers[key],
        tiles: of.map(([value, name]) => ({ key: value, name })),
        choose: (value) => change({ [key]: value }),
      }),
    );
  const step = (n: number, title: string, ...inside: unknown[]) =>
    h('fieldset', { key: n }, h('legend', null, `${n}. ${title}`), inside as never);
  const submit = async (): Promise<void> => {
    setTrouble(undefined);
    try {
      await begin(answers, session);
      done();
    } catch (error) {
      setTrouble(inWords(error));
    }
  };
  return h(
    'main',
    { class: 'room first-run' },
    h('h1', null, 'A new record'),
    h(
      'p',
      null,
      'Four things to know once; each can be changed later. What you write stays in one file on this machine.',
    ),
    h(
      'form',
      {
        onSubmit: (event: Event) => {
          event.preventDefault();
          void submit();
        },
      },
      step(
        1,
        'Studio and units',
        box('name', 'What the studio is called'),
        h('div', { key: 'units', class: 'row units-row' }, [
          pick('lengths', 'Lengths in', [
            ['mm', 'mm'],
            ['in', 'inches'],
          ]),
          pick('weights', 'Weights in', [
            ['g', 'grams'],
            ['lb', 'pounds'],
          ]),
          pick('temperatures', 'Temperatures in', [
            ['C', '°C'],
            ['F', '°F'],
          ]),
        ]),
        box('currency', 'Currency, three letters', { maxLength: 3, class: 'short' }),
        box('zone', 'Zone of the clocks'),
      ),
      step(
        2,
        'Clay',
        h(Tiles, {
          label: 'Clay',
          field: 'first.clay',
          chosen: answers.clay,
          tiles: Object.entries(studio.clays).map(([key, { name }]) => ({ key, name })),
          choose: (clay) => change({ clay }),
        }),
        h('p', { class: 'hint' }, 'The values are usual ones until your own test pieces say better.'),
      ),
      step(
        3,
        'Kiln',
        box('kiln', 'What the kiln is called'),
        h(
          'div',
          { class: 'row' },
          (['width', 'depth', 'height'] as const).map((key) =>
            box(key, `Inside ${key}, ${answers.lengths}`, { inputMode: 'decimal', class: 'short' }),
          ),
        ),
        h('p', { class: 'hint' }, 'The inside may be left empty.'),
      ),
      step(
        4,
        'First form',
        h(Tiles, {
          label: 'First form',
          field: 'first.form',
          chosen: answers.form,
          tiles: Object.entries(studio.forms).map(([key, form]) => ({
            key,
            name: form.name,
            picture: silhouette(form, { attitude: 'upright', lean_deg: 0 }),
          })),
          choose: (form) => change({ form }),
        }),
      ),
      trouble !== undefined &&
        h(
          'div',
          { class: 'not-saved', role: 'alert' },
          h('b', null, 'Not kept. '),
          `${trouble} What you typed is still here.`,
        ),
      h('button', { type: 'submit', class: 'main big', 'data-do': 'begin-record' }, 'Begin the record'),
    ),
  );
};
