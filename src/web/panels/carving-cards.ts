import { h } from 'preact';
import type { Carving } from '../../making/form/carving/carving-shape.ts';
import type { Session } from '../session.ts';
import { onBench, shownOf } from '../state/page.ts';
import { asOther, carvingRows, firstOpening, firstRelief } from './carving-fields.ts';
import { dustCaution } from './cautions.ts';
import { tick } from './choice.ts';
import { faultsOf } from './faults-of.ts';
import { MapPicture } from './map-picture.ts';
import { motifRow } from './motif-row.ts';
import { NumberBox } from './number-box.ts';

const nameOf = (c: Carving): string =>
  'map' in c ? 'Relief from a map' : c.kind === 'opening' ? 'Opening' : 'Relief';

/** What the mesh shown makes of it, where it is not all as it should be. */
const notShown = (session: Session, i: number) => {
  const film = shownOf(session.page())?.film;
  const left = film?.warnings.some(({ text }) => text.startsWith(`Carving ${i + 1} `));
  if (!film || !left) return null;
  const why =
    film.care === 'quick'
      ? 'Left out of the quick look, which has too few triangles: its outlines are drawn, the wall is whole. The full firing cuts it.'
      : 'Left out: too fine for so few triangles. Choose a finer full firing.';
  return h('p', { class: 'hint', 'data-left-out': i }, why);
};

const kindRow = (session: Session, c: Carving, i: number) =>
  h(
    'div',
    { class: 'row', role: 'group', 'aria-label': `Carving ${i + 1}: how deep` },
    (['opening', 'relief'] as const).map((kind) =>
      tick(kind === 'opening' ? 'cut through' : 'carved in', `carving.${i}.${kind}`, c.kind === kind, () => {
        if (c.kind !== kind) session.edit(['form', 'carving', i], asOther(c));
      }),
    ),
  );

const card = (session: Session, c: Carving, i: number) => {
  const { faults } = session.page();
  const at = ['form', 'carving', i];
  const name = nameOf(c);
  const found = faultsOf(faults, `form.carving[${i}]`);
  return h(
    'li',
    { key: i, class: found.length > 0 ? 'card bad' : 'card', 'data-carving': c.kind },
    h(
      'div',
      { class: 'row head' },
      h('b', null, `${i + 1}. ${name}`),
      h('span', { class: 'spring' }),
      h(
        'button',
        {
          type: 'button',
          'aria-label': `Carving ${i + 1}: take it away`,
          onClick: () => session.edit(at, undefined),
        },
        '×',
      ),
    ),
    'map' in c
      ? h(MapPicture, { map: c.map })
      : [kindRow(session, c, i), motifRow(session, at, c.outline, name)],
    found,
    h(
      'div',
      { class: 'fields three' },
      carvingRows(c).map((row) =>
        h(NumberBox, { ...row, key: row.label, over: true, session, path: [...at, ...row.path] }),
      ),
    ),
    !('map' in c) &&
      c.rows > 1 &&
      tick('every second row half a step on', `carving.${i}.staggered`, c.staggered, (on) =>
        session.edit([...at, 'staggered'], on),
      ),
    notShown(session, i),
  );
};

const trialNote = (session: Session) =>
  session.page().trial &&
  h(
    'div',
    { class: 'trial', role: 'status' },
    h('p', null, 'Red will not hold: the piece shown is the last that does. Go on changing it, or'),
    h(
      'button',
      { type: 'button', 'data-do': 'drop-trial', onClick: session.dropTrial },
      'Go back to the last that holds',
    ),
  );

/** What is cut through the wall or carved into its outside: one card each. */
export const CarvingCards = ({ session }: { readonly session: Session }) => {
  const { carving } = onBench(session.page()).form;
  const add = (c: Carving): void => {
    session.edit(['form', 'carving'], [...carving, c]);
  };
  return h(
    'div',
    { class: 'cards' },
    trialNote(session),
    carving.length === 0 &&
      h(
        'p',
        { class: 'hint' },
        'The wall is whole. Openings are cut through it; reliefs are carved into its outside.',
      ),
    h(
      'ol',
      null,
      carving.map((c, i) => card(session, c, i)),
    ),
    h(
      'div',
      { class: 'row adders', role: 'group', 'aria-label': 'Add carving' },
      h('button', { type: 'button', 'data-add': 'opening', onClick: () => add(firstOpening()) }, '+ Opening'),
      h('button', { type: 'button', 'data-add': 'relief', onClick: () => add(firstRelief()) }, '+ Relief'),
    ),
    dustCaution(),
  );
};
