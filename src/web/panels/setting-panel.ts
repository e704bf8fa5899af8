import { h } from 'preact';
import { USUAL_FRICTION } from '../../making/firing/set-on-props.ts';
import type { Setting } from '../../making/firing/setting.ts';
import type { Session } from '../session.ts';
import { workOf } from '../state/page.ts';
import { settingFileName, settingText } from '../state/setting-file.ts';
import { choice, tick } from './choice.ts';
import { NumberBox } from './number-box.ts';
import { propCards } from './prop-cards.ts';
import { saveText } from './save.ts';

const ATTITUDE: Readonly<Record<Setting['attitude'], string>> = {
  upright: 'Upright',
  'rim down': 'Rim down',
  'on its side': 'On its side',
  leaning: 'Leaning',
};

const degrees = (session: Session, key: string, label: string) =>
  h(NumberBox, {
    session,
    path: ['setting', key],
    label,
    unit: '°',
    step: key === 'lean_deg' ? 1 : 5,
    over: true,
  });

const turns = (session: Session, { attitude }: Setting) => {
  if (attitude !== 'on its side' && attitude !== 'leaning') return null;
  return h(
    'div',
    { class: 'fields three' },
    attitude === 'leaning' && degrees(session, 'lean_deg', 'Leans by'),
    degrees(session, 'turn_deg', attitude === 'leaning' ? 'Turned first' : 'Turned by'),
  );
};

/** On props a number holds it; on the bare shelf one of two words will do. */
const gripOf = ({ friction, props, shelf }: Setting): string => {
  if (friction !== undefined) return 'own';
  return props.length > 0 ? 'usual' : shelf;
};

const grip = (session: Session, setting: Setting) => {
  const plain: readonly (readonly [string, string])[] =
    setting.props.length > 0
      ? [['usual', `holds as usual (${USUAL_FRICTION}, a guess)`]]
      : [
          ['slides', 'slides on the shelf'],
          ['grips', 'grips the shelf'],
        ];
  return h(
    'div',
    { class: 'grip' },
    choice(
      'As it shrinks and creeps it',
      'setting.shelf',
      gripOf(setting),
      [...plain, ['own', 'friction of its own']],
      (way) => {
        const { friction: _, ...rest } = setting;
        if (way === 'own') session.edit(['setting', 'friction'], USUAL_FRICTION);
        else session.edit(['setting'], way === 'usual' ? rest : { ...rest, shelf: way });
      },
    ),
    setting.friction !== undefined &&
      h(NumberBox, {
        session,
        path: ['setting', 'friction'],
        label: 'Slope it would just slide on (rise over run)',
        unit: '',
        step: 0.05,
        places: 2,
      }),
  );
};

const hotSide = (session: Session, setting: Setting) =>
  h(
    'div',
    { class: 'hot-side' },
    h('h2', null, 'Where the kiln is hotter'),
    tick('one side hotter', 'setting.hotSide', setting.hotSide !== undefined, (on) =>
      session.edit(['setting', 'hotSide'], on ? { difference_C: 10, towards_deg: 0 } : undefined),
    ),
    setting.hotSide &&
      h(
        'div',
        { class: 'fields three' },
        h(NumberBox, {
          session,
          path: ['setting', 'hotSide', 'difference_C'],
          label: 'Hotter by',
          unit: '°C',
          step: 1,
          over: true,
          apart: true,
        }),
        h(NumberBox, {
          session,
          path: ['setting', 'hotSide', 'towards_deg'],
          label: 'On the side',
          unit: '°',
          step: 15,
          over: true,
        }),
      ),
    setting.hotSide &&
      h(
        'p',
        { class: 'hint' },
        'Across the width of the piece while it is soft. The side is counted in degrees round the kiln from along (x), as the piece stands.',
      ),
  );

/** How the piece stands in the kiln, on what, how that holds it, and where the kiln is hot. */
export const SettingPanel = ({ session }: { readonly session: Session }) => {
  const { setting, form } = workOf(session.page());
  return h(
    'div',
    { class: 'setting-panel' },
    h('h2', null, ATTITUDE[setting.attitude]),
    h('p', { class: 'hint' }, 'The pictures under "How it stands in the kiln" choose the attitude.'),
    turns(session, setting),
    propCards(session),
    h('h2', null, 'How that holds it'),
    grip(session, setting),
    hotSide(session, setting),
    h(
      'div',
      { class: 'row adders' },
      h(
        'button',
        {
          type: 'button',
          'data-do': 'save-setting',
          onClick: () => saveText(settingText(setting, form), settingFileName(form)),
        },
        'Save setting',
      ),
    ),
  );
};
