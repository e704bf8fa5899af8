import { h } from 'preact';
import { useState } from 'preact/hooks';
import { scaleBetween } from '../../making/clay/shrinkage.ts';
import { settingName } from '../../making/firing/makeable/set-name.ts';
import { AimDrawing } from '../panels/aim/aim-drawing.ts';
import { AimRun } from '../panels/aim/aim-run.ts';
import { AimVerdict } from '../panels/aim/aim-verdict.ts';
import { BestWay } from '../panels/aim/best-way.ts';
import { DifferenceMap } from '../panels/aim/difference-map.ts';
import { MakeIt } from '../panels/aim/make-it.ts';
import { Tabs } from '../panels/tabs.ts';
import type { Session } from '../session.ts';
import { type AimDesk, QUICK_TRIANGLES, useAimDesk } from '../state/aim-desk.ts';
import { sameWork, type Work, workOf } from '../state/page.ts';
import { type Lengths, lengthText } from '../words.ts';
import type { RoomProps } from './rooms.ts';

const FINER: readonly (readonly [triangles: number, name: string])[] = [
  [QUICK_TRIANGLES, 'quick look'],
  [3000, 'finer'],
  [6000, 'fine'],
];

type Which = 'free' | 'made';

/** Largest sizes of the drawn line as it is to come out, after the fire. */
const wantedSize = ({ form, clay }: Work, lengths: Lengths): string => {
  const scale = form.sizes === 'fired' ? 1 : scaleBetween(clay, 'wet', 'fired');
  const high = scale * Math.max(...form.line.map((p) => p.height_mm));
  const wide = 2 * scale * Math.max(...form.line.map((p) => p.radius_mm));
  const of = (mm: number): string => lengthText(mm, lengths, 0);
  return `about ${of(high)} ${lengths} high, ${of(wide)} ${lengths} wide by its line`;
};

const wish = (session: Session) => {
  const page = session.page();
  const work = workOf(page);
  return h(
    'section',
    { class: 'wish', 'aria-label': 'What is wanted' },
    h('h2', null, `Wanted after the fire: ${work.form.name}`),
    h(
      'p',
      null,
      `${wantedSize(work, page.lengths)}${work.form.sizes === 'thrown' ? ' (the line as thrown, shrunk)' : ''}.`,
    ),
    h(
      'p',
      { class: 'hint' },
      `Set ${settingName(work.setting)}, in ${work.clay.name}, fired by ${work.schedule.name}. Change them under `,
      h('a', { href: '#bench' }, 'Shape and fire'),
      '.',
    ),
    work.clay.sagViscosity.how === 'guess' &&
      h(
        'p',
        { class: 'guess' },
        'How soft this clay goes is a guess, and what to make hangs on it. ',
        h('a', { href: '#test-pieces' }, 'Fire test bars'),
        ' to know.',
      ),
  );
};

/** The bench has moved on since: what is shown was asked of other work. */
const movedOn = (session: Session, desk: AimDesk) => {
  const { found } = desk.now();
  if (!found || sameWork(found.of, workOf(session.page()))) return null;
  const back = (): void => session.replace(found.of);
  return h(
    'p',
    { class: 'moved-on', role: 'status' },
    `What is shown was found for ${found.of.form.name}, ${settingName(found.of.setting)}; the bench holds other work now. `,
    h('button', { type: 'button', 'data-do': 'wanted-back', onClick: back }, 'Wanted form back on the bench'),
  );
};

const find = (session: Session, desk: AimDesk, triangles: number, setTriangles: (n: number) => void) => {
  const { lengths } = session.page();
  const { found, running } = desk.now();
  const again = found && sameWork(found.of, workOf(session.page()));
  return h(
    'div',
    { class: 'find' },
    h(AimRun, {
      desk,
      kind: 'aim',
      name: again ? 'Find again' : 'Find what to make',
      main: true,
      lengths,
      begin: () => void desk.find(triangles),
    }),
    running?.kind !== 'aim' &&
      h(
        'label',
        { class: 'choice' },
        h('span', { class: 'unseen' }, 'How fine'),
        h(
          'select',
          {
            value: String(triangles),
            'data-field': 'aim-triangles',
            onChange: (event: Event) => setTriangles(Number((event.target as HTMLSelectElement).value)),
          },
          FINER.map(([n, name]) => h('option', { key: n, value: String(n) }, name)),
        ),
      ),
  );
};

/** From what is wanted on the table to what must be made. */
export const AimRoom = ({ session }: RoomProps) => {
  const desk = useAimDesk(session);
  const [triangles, setTriangles] = useState(QUICK_TRIANGLES);
  const [which, setWhich] = useState<Which>('made');
  const page = session.page();
  const { lengths, degrees } = page;
  const { found, made } = desk.now();
  const shown = which === 'made' ? made : undefined;
  const work = found?.of ?? workOf(page);
  const mapped = found && Number.isFinite(shown ? shown.max_m : found.aim.max_m);
  return h(
    'main',
    { class: 'room aim' },
    h('h1', { class: 'unseen' }, 'Aim'),
    h(
      'div',
      { class: 'aim-side' },
      wish(session),
      find(session, desk, triangles, setTriangles),
      movedOn(session, desk),
      found && h(AimVerdict, { found, lengths, degrees }),
    ),
    h(
      'section',
      { class: 'aim-pictures', 'aria-label': 'Wanted, green and fired', id: 'aim-shown' },
      made &&
        h(Tabs<Which>, {
          tabs: [
            ['made', 'Made by hand'],
            ['free', 'Free shape'],
          ],
          chosen: which,
          panel: 'aim-shown',
          label: 'Which shape to look at',
          choose: setWhich,
        }),
      h(AimDrawing, { work, aim: found?.aim, made: shown, lengths }),
      mapped
        ? h(DifferenceMap, { aim: found.aim, made: shown, lengths })
        : h(
            'p',
            { class: 'hint nothing-yet' },
            found
              ? 'Nothing comes out as this, so there is nothing to compare.'
              : 'What to make is found by running the fire backwards from the wanted piece, then firing the result and correcting until it comes out. It is drawn here over the wanted one, with a map of what still differs.',
          ),
    ),
    h(MakeIt, { session, desk }),
    h(BestWay, { session, desk }),
  );
};
