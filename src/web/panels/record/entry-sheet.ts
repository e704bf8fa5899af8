import { type ComponentChild, h } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Entry } from '../../../making/record/entry.ts';
import { wallClock } from '../../../making/record/instant.ts';
import { type KindName, kindOf } from '../../../making/record/kinds.ts';
import { claysNow } from '../../../making/record/next-kinds.ts';
import { shownAmount, type Units } from '../../state/record/amount.ts';
import type { PieceTold } from '../../state/record/answers.ts';
import { askRecord, inWords, newUid, type Studio } from '../../state/record/ask.ts';
import { type EntryDraft, keepEntryDraft, keptEntryDraft } from '../../state/record/entry-draft.ts';
import { type Faults, handIn, instantTyped, markOf, readDraft } from '../../state/record/hand-in.ts';
import { NumberPad, typedBy } from '../unloading/number-pad.ts';
import { EntryField } from './entry-fields.ts';
import { KIND_TITLES } from './entry-words.ts';
import { FiringChoice } from './firing-choice.ts';

interface Props {
  readonly told: PieceTold;
  readonly kind: KindName;
  /** The entry that this one corrects. */
  readonly corrects?: Entry | undefined;
  readonly studio: Studio;
  readonly units: Units;
  readonly places: readonly string[];
  readonly recorded: (entry: Entry) => void;
  readonly cancel: () => void;
}

/** What is most often so, chosen beforehand where everybody sees it. */
const USUAL: Readonly<Partial<Record<KindName, Readonly<Record<string, string>>>>> = {
  formed: { how: 'thrown' },
  carved: { how: 'carved' },
};

const firstValues = ({ told, kind, corrects, units }: Props): Record<string, string> => {
  const { piece, planned } = told;
  if (corrects) {
    const shown = Object.entries(corrects.data).map(([name, value]) => [
      name,
      kindOf(kind).fields[name]?.type === 'number' ? shownAmount(name, Number(value), units) : String(value),
    ]);
    return { ...Object.fromEntries(shown), ...(corrects.firing ? { firing: String(corrects.firing) } : {}) };
  }
  const { clay } = kindOf(kind).fields;
  const firing = planned.at(0)?.id;
  return {
    ...USUAL[kind],
    ...(clay?.type === 'choice' ? { clay: claysNow(piece.state)[0] ?? '' } : {}),
    ...(kind === 'set' ? { firing: firing === undefined ? 'new' : String(firing) } : {}),
    ...(kind === 'sold' && piece.state.price
      ? { price_minor: shownAmount('price_minor', piece.state.price.minor, units) }
      : {}),
  };
};

const startDraft = (props: Props): EntryDraft => {
  const { told, kind, corrects, studio } = props;
  const kept = keptEntryDraft(told.piece.id);
  if (kept && kept.kind === kind && kept.undoes === corrects?.id) return kept;
  const clock = corrects && wallClock(corrects.at_utc, studio.settings.zone);
  return {
    piece: told.piece.id,
    kind,
    undoes: corrects?.id,
    values: firstValues(props),
    note: corrects?.note ?? '',
    when: clock ? `${clock.day}T${clock.time}` : '',
  };
};

/** The firing of an entry: chosen, or planned at this moment under the name that was typed. */
const firingFor = async (
  { told, studio }: Props,
  { kind, values }: EntryDraft,
  frame: { readonly uid: string; readonly at_utc: string },
): Promise<number | undefined> => {
  if (!kindOf(kind).inFiring) return undefined;
  if (kind !== 'set') return values.firing ? Number(values.firing) : told.piece.state.firing;
  if (values.firing !== 'new') return Number(values.firing);
  const { zone } = studio.settings;
  const planned = await askRecord<{ firing: { id: number } }>('/firings', 'POST', {
    at_utc: frame.at_utc,
    zone,
    uid: `${frame.uid}-f`,
    name: values.firingName ?? '',
  });
  return planned.firing.id;
};

/** Recording one thing that happened: what was typed stays until it is written. */
export const EntrySheet = (props: Props) => {
  const { told, kind, corrects, studio, units, places } = props;
  const [draft, setDraft] = useState(() => startDraft(props));
  const [faults, setFaults] = useState<Faults>({});
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const [sending, setSending] = useState(false);
  const [active, setActive] = useState<{ readonly name: string; readonly fresh: boolean } | undefined>();
  const form = useRef<HTMLFormElement>(null);
  const { zone } = studio.settings;
  const fields = Object.entries(kindOf(kind).fields).filter(([name]) => name !== 'currency');
  const numbers = fields.filter(([, field]) => field.type === 'number').map(([name]) => name);

  const change = (part: Partial<EntryDraft>): void => {
    const next = { ...draft, ...part };
    setDraft(next);
    keepEntryDraft(next);
  };
  const type = (name: string, text: string): void => {
    change({ values: { ...draft.values, [name]: text } });
    setFaults(({ [name]: _, ...rest }) => rest);
  };
  const fieldAt = (name: string): HTMLElement | null =>
    form.current?.querySelector(`[data-field="entry.${name}"]`) ?? null;
  useEffect(() => {
    // Straight to the first number, which is what a pad is for; else to the heading, from where all of it is read.
    const first = numbers[0] && kindOf(kind).fields[numbers[0]]?.needed ? fieldAt(numbers[0]) : undefined;
    (first ?? form.current?.querySelector<HTMLElement>('h2'))?.focus();
    form.current?.scrollIntoView({ block: 'nearest' });
  }, []);

  const record = async (): Promise<void> => {
    const read = readDraft(draft, units);
    const at_utc = instantTyped(draft.when, zone);
    const noteMissing = kindOf(kind).noteNeeded && draft.note.trim() === '';
    const all = {
      ...read.faults,
      ...(at_utc instanceof Error ? { when: at_utc.message } : {}),
      ...(noteMissing ? { note: 'A few words.' } : {}),
    };
    setFaults(all);
    if (Object.keys(all).length > 0 || at_utc instanceof Error) return;
    setSending(true);
    setTrouble(undefined);
    const from = markOf(draft);
    const sent = draft.sent?.from === from ? draft.sent : { from, entry: { uid: newUid(), at_utc } };
    change({ sent });
    try {
      const firing = await firingFor(props, draft, sent.entry);
      const entry = await handIn({
        piece: told.piece.id,
        kind,
        data: read.data,
        note: draft.note.trim(),
        zone,
        ...sent.entry,
        ...(firing === undefined ? {} : { firing }),
        ...(corrects ? { undoes: corrects.id } : {}),
      });
      keepEntryDraft(undefined);
      props.recorded(entry);
    } catch (error) {
      setTrouble(inWords(error));
      setSending(false);
    }
  };

  const press = (key: Parameters<typeof typedBy>[0]): void => {
    const name = active?.name ?? numbers[0]!;
    if (key === 'next') {
      const after = numbers[numbers.indexOf(name) + 1];
      const next = after === undefined ? undefined : fieldAt(after);
      (next ?? form.current?.querySelector<HTMLElement>('[data-do="record"]'))?.focus();
      return;
    }
    if (!active) fieldAt(name)?.focus();
    setActive({ name, fresh: false });
    type(name, typedBy(key, draft.values[name] ?? '', active?.fresh ?? true));
  };

  const when = h(
    'details',
    { class: 'when', open: draft.when !== '' },
    h('summary', null, corrects ? 'When' : 'Not now: another time'),
    h(
      'label',
      null,
      `Day and time, ${zone}`,
      h('input', {
        type: 'datetime-local',
        value: draft.when,
        'data-field': 'entry.when',
        onInput: (event: Event) => change({ when: (event.target as HTMLInputElement).value }),
      }),
    ),
    faults.when !== undefined && h('p', { class: 'fault', role: 'alert' }, faults.when),
  );
  const { caution } = kindOf(kind);
  const body: ComponentChild[] = [
    kind === 'set' && h(FiringChoice, { key: 'firing', planned: told.planned, values: draft.values, type }),
    ...fields.map(([name, field]) =>
      h(EntryField, {
        key: name,
        kind,
        name,
        field,
        text: draft.values[name] ?? '',
        fault: faults[name],
        units,
        studio,
        places,
        of: name === 'clay' && field.type === 'choice' && !corrects ? claysNow(told.piece.state) : undefined,
        type: (text) => type(name, text),
        focus: () => setActive({ name, fresh: true }),
      }),
    ),
    h(
      'label',
      { key: 'note', class: 'entry-field' },
      'In your own words',
      h('textarea', {
        rows: 2,
        maxLength: 20_000,
        value: draft.note,
        'data-field': 'entry.note',
        onInput: (event: Event) => change({ note: (event.target as HTMLTextAreaElement).value }),
      }),
    ),
    when,
  ];
  const wrong = Object.keys(faults).length;
  return h(
    'form',
    {
      ref: form,
      class: 'entry-sheet',
      'aria-labelledby': 'entry-title',
      'data-kind': kind,
      noValidate: true,
      onSubmit: (event: Event) => {
        event.preventDefault();
        if (!sending) void record();
      },
      onKeyDown: (event: KeyboardEvent) => {
        if (event.key === 'Escape') props.cancel();
      },
    },
    h(
      'h2',
      { id: 'entry-title', tabIndex: -1 },
      corrects ? `Correct: ${KIND_TITLES[kind]}` : KIND_TITLES[kind],
    ),
    h(
      'div',
      { class: `entry-body${numbers.length > 0 ? ' with-pad' : ''}` },
      h('div', { class: 'entry-fields' }, body),
      numbers.length > 0 && h(NumberPad, { signed: numbers.includes('sag_mm'), press }),
    ),
    faults[''] !== undefined && h('p', { class: 'fault', role: 'alert' }, faults['']),
    caution !== undefined && h('p', { class: 'hint' }, caution),
    trouble !== undefined &&
      h(
        'div',
        { class: 'not-saved', role: 'alert' },
        h('b', null, 'Not recorded. '),
        `${trouble} What you typed is still here.`,
      ),
    h(
      'div',
      { class: 'row' },
      h(
        'button',
        { type: 'submit', class: 'main', 'data-do': 'record', 'aria-disabled': sending },
        sending ? 'Recording…' : trouble === undefined ? 'Record' : 'Try again',
      ),
      h(
        'button',
        {
          type: 'button',
          'data-do': 'cancel',
          onClick: () => {
            keepEntryDraft(undefined);
            props.cancel();
          },
        },
        'Cancel',
      ),
      wrong > 0 && h('span', { class: 'fault' }, 'Not recorded yet: see above.'),
    ),
    h(
      'datalist',
      { id: 'known-places' },
      places.map((place) => h('option', { key: place, value: place })),
    ),
  );
};
