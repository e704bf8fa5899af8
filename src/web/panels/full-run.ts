import { h } from 'preact';
import { plainTwin } from '../../making/firing/plain-twin.ts';
import type { Session } from '../session.ts';
import { type FullRun as RunningNow, sameWork, shownOf, workOf } from '../state/page.ts';

const FINENESS: readonly (readonly [triangles: number, name: string])[] = [
  [800, 'coarse'],
  [2000, 'middling'],
  [6000, 'fine'],
  [12000, 'very fine'],
];

const NAMES = { fire: 'Full firing', compare: 'Beside its plain twin' } as const;

const running = (session: Session, { what, fraction, note }: RunningNow) =>
  h(
    'section',
    { class: 'full-run', 'aria-label': NAMES[what] },
    h('progress', { max: 1, value: fraction, 'aria-label': NAMES[what] }),
    h('span', { class: 'note' }, `${Math.round(100 * fraction)} %${note === '' ? '' : `, ${note}`}`),
    h('button', { type: 'button', 'data-do': 'stop', onClick: session.stop }, 'Stop'),
  );

/** After a full firing: the same without its flutes, or only the piece in the hand. */
const compareButton = (session: Session) => {
  const page = session.page();
  const work = workOf(page);
  if (page.beside && sameWork(page.beside.of, work)) return null;
  const twin = plainTwin(work.form);
  return h(
    'button',
    { type: 'button', 'data-do': 'compare', onClick: session.compare },
    twin ? `Without its ${twin.without}` : 'In the hand',
  );
};

/** The full firing: fine, with its intervals; a quick look stands in until it is asked for. */
export const FullRun = ({ session }: { readonly session: Session }) => {
  const page = session.page();
  if (page.running) return running(session, page.running);
  const done = shownOf(page)?.film.care === 'full';
  return h(
    'section',
    { class: 'full-run', 'aria-label': 'Full firing', 'data-shown': done ? 'full' : 'quick' },
    h(
      'button',
      { type: 'button', class: 'main', 'data-do': 'fire', onClick: session.fireFully },
      done ? 'Fire again' : 'Full firing',
    ),
    h(
      'label',
      { class: 'choice' },
      h('span', { class: 'unseen' }, 'How fine'),
      h(
        'select',
        {
          value: String(page.triangles),
          'data-field': 'triangles',
          onChange: (event: Event) => {
            const triangles = Number((event.target as HTMLSelectElement).value);
            session.update((p) => ({ ...p, triangles }));
          },
        },
        FINENESS.map(([n, name]) => h('option', { key: n, value: String(n) }, name)),
      ),
    ),
    done && compareButton(session),
  );
};
