import { h } from 'preact';
import type { Session } from '../session.ts';
import { shownOf } from '../state/page.ts';

const FINENESS: readonly (readonly [triangles: number, name: string])[] = [
  [800, 'coarse'],
  [2000, 'middling'],
  [6000, 'fine'],
  [12000, 'very fine'],
];

const running = (session: Session, fraction: number, note: string) =>
  h(
    'section',
    { class: 'full-run', 'aria-label': 'Full firing' },
    h('progress', { max: 1, value: fraction, 'aria-label': 'Full firing' }),
    h('span', { class: 'note' }, `${Math.round(100 * fraction)} %${note === '' ? '' : `, ${note}`}`),
    h('button', { type: 'button', 'data-do': 'stop', onClick: session.stop }, 'Stop'),
  );

/** The full firing: fine, with its intervals; a quick look stands in until it is asked for. */
export const FullRun = ({ session }: { readonly session: Session }) => {
  const page = session.page();
  if (page.running) return running(session, page.running.fraction, page.running.note);
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
  );
};
