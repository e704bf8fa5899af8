import { h } from 'preact';
import { useState } from 'preact/hooks';
import type { KindName } from '../../../making/record/kinds.ts';
import { keptAmount, saysOf, type Units, unitOf } from '../../state/record/amount.ts';
import type { Firing } from '../../state/record/answers.ts';
import { askRecord, inWords, newUid } from '../../state/record/ask.ts';
import { instantTyped } from '../../state/record/hand-in.ts';

/** What is noted while a kiln runs: what the thermometer says and when, and words of one's own. */

interface Props {
  readonly firing: Firing;
  readonly zone: string;
  readonly units: Units;
  readonly again: () => Promise<void>;
}

interface Noted {
  readonly kind: KindName;
  readonly data?: Readonly<Record<string, number>>;
  readonly note?: string;
  readonly when: string;
}

/** Hands in one entry; the same one again, after a lost answer, is written once. */
const useHandIn = ({ firing, zone, again }: Props) => {
  const [sent, setSent] = useState<{ of: string; uid: string; at_utc: string } | undefined>(undefined);
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const handIn = async ({ when, ...noted }: Noted): Promise<boolean> => {
    setTrouble(undefined);
    const at_utc = instantTyped(when, zone);
    if (at_utc instanceof Error) {
      setTrouble(at_utc.message);
      return false;
    }
    const of = JSON.stringify([noted, when]);
    const frame = sent?.of === of ? sent : { of, uid: newUid(), at_utc };
    setSent(frame);
    try {
      const entry = { ...noted, firing: firing.id, at_utc: frame.at_utc, zone, uid: frame.uid };
      await askRecord('/entries', 'POST', { entries: [entry] });
      // The same again is then another one: a kiln that holds says the same twice.
      setSent(undefined);
    } catch (error) {
      setTrouble(inWords(error));
      return false;
    }
    await again();
    return true;
  };
  return { handIn, trouble, setTrouble };
};

const typedIn = (event: Event): string => (event.target as HTMLInputElement).value;

const notSaved = (trouble: string | undefined) =>
  trouble !== undefined &&
  h(
    'div',
    { class: 'not-saved', role: 'alert' },
    h('b', null, 'Not recorded. '),
    `${trouble} What you typed is still here.`,
  );

const FIELD = 'temperature_C';

/** The thermometer: what it says, and when on the studio's clock. */
const Reading = (props: Props) => {
  const { units } = props;
  const [text, setText] = useState('');
  const [when, setWhen] = useState('');
  const { handIn, trouble, setTrouble } = useHandIn(props);
  const save = async (): Promise<void> => {
    const kept = keptAmount('read', FIELD, text, units) ?? 'a number';
    if (typeof kept !== 'number') setTrouble(`${text || 'Nothing'} will not do here: ${kept}.`);
    else if (await handIn({ kind: 'read', data: { [FIELD]: kept }, when })) {
      setText('');
      setWhen('');
    }
  };
  return h(
    'form',
    {
      class: 'reading-form',
      onSubmit: (event: Event) => {
        event.preventDefault();
        void save();
      },
    },
    h(
      'label',
      null,
      `${saysOf('read', FIELD)}, ${unitOf(FIELD, units)}`,
      h('input', {
        type: 'text',
        inputMode: 'decimal',
        autocomplete: 'off',
        value: text,
        'data-field': 'reading.temperature',
        onInput: (event: Event) => setText(typedIn(event)),
      }),
    ),
    h(
      'label',
      null,
      'When; left empty: now',
      h('input', {
        type: 'datetime-local',
        value: when,
        'data-field': 'reading.when',
        onInput: (event: Event) => setWhen(typedIn(event)),
      }),
    ),
    h('button', { type: 'submit', 'data-do': 'keep-reading' }, 'Keep the reading'),
    notSaved(trouble),
  );
};

const Words = (props: Props) => {
  const [text, setText] = useState('');
  const { handIn, trouble } = useHandIn(props);
  const save = async (): Promise<void> => {
    const note = text.trim();
    if (note !== '' && (await handIn({ kind: 'noted', note, when: '' }))) setText('');
  };
  return h(
    'form',
    {
      onSubmit: (event: Event) => {
        event.preventDefault();
        void save();
      },
    },
    h(
      'label',
      null,
      'A note on this firing, in your own words',
      h('textarea', {
        rows: 2,
        maxLength: 20_000,
        value: text,
        'data-field': 'note',
        onInput: (event: Event) => setText(typedIn(event)),
      }),
    ),
    notSaved(trouble),
    h('button', { type: 'submit', 'data-do': 'keep-note' }, 'Keep the note'),
  );
};

/** Readings belong to a kiln that is on or cooling; words to any firing. */
export const FiringNotes = (props: Props) => {
  const { stage } = props.firing.state;
  return h(
    'section',
    { class: 'notes firing-notes', 'aria-label': 'Readings and notes' },
    (stage === 'lit' || stage === 'off') && h(Reading, props),
    h(Words, props),
  );
};
