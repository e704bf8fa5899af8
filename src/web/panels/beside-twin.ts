import { h } from 'preact';
import type { Session } from '../session.ts';
import { firedIn, sameWork, workOf } from '../state/page.ts';
import { inDegrees, inLengths, lengthReading, read } from '../words.ts';
import type { Compared, InHand } from '../worker/compare.ts';
import type { Seen } from '../worker/film.ts';
import { Picture } from './settings-strip.ts';

const figures = (x: number): string => String(Number(x.toPrecision(2)));

const HAND: readonly (readonly [key: keyof InHand, name: string])[] = [
  ['dry', 'bone dry'],
  ['fired', 'fired'],
];

const handRows = ({ hand, twin }: Compared) =>
  HAND.map(([state, name]) =>
    h(
      'tr',
      { key: state, 'data-hand': state },
      h('th', { scope: 'row' }, `Lip squeezed, ${name}`, h('i', null, ' N/mm')),
      h('td', { class: 'fired' }, figures(hand[state].pinch_N_mm)),
      twin && h('td', null, figures(twin.hand[state].pinch_N_mm)),
    ),
  );

const pictures = (own: Seen | undefined, twin: NonNullable<Compared['twin']>) =>
  h(
    'div',
    { class: 'pair' },
    h('figure', null, h(Picture, { seen: own }), h('figcaption', null, `With its ${twin.without}`)),
    h('figure', null, h(Picture, { seen: twin.film }), h('figcaption', null, 'Without')),
  );

const sagRows = (session: Session, { comparison }: NonNullable<Compared['twin']>) => {
  const reading = lengthReading(session.page().lengths);
  const row = (name: string, key: string, own_m: number, plain_m: number) =>
    h(
      'tr',
      { key, 'data-beside': key },
      h('th', { scope: 'row' }, name, h('i', null, ` ${reading.unit}`)),
      h('td', { class: 'fired' }, read(own_m, reading)),
      h('td', null, read(plain_m, reading)),
    );
  const c = comparison;
  return [
    row(`${c.part === 'lip' ? 'Lip' : 'Top'} drops`, 'drop', c.drop_m, c.plainDrop_m),
    row('Moves at most', 'sag', c.greatestSag_m, c.plainGreatestSag_m),
  ];
};

/** What the flutes bought: the piece and its plain twin through one fire and in the hand. */
export const BesideTwin = ({ session }: { readonly session: Session }) => {
  const page = session.page();
  const work = workOf(page);
  if (!page.beside || !sameWork(page.beside.of, work)) return null;
  const { compared } = page.beside;
  const told = (text: string) => inDegrees(inLengths(text, page.lengths), page.degrees);
  if (typeof compared === 'string')
    return h('section', { class: 'beside', role: 'alert' }, h('p', null, told(compared)));
  const { twin, hand } = compared;
  return h(
    'section',
    { class: 'beside measures', 'aria-label': twin ? `With and without its ${twin.without}` : 'In the hand' },
    h('h2', null, twin ? `What its ${twin.without} do` : 'In the hand'),
    twin && pictures(firedIn(page, work.setting.attitude)?.film, twin),
    h(
      'table',
      null,
      twin &&
        h(
          'thead',
          null,
          h(
            'tr',
            null,
            h('th', null, h('span', { class: 'unseen' }, 'What')),
            h('th', { scope: 'col' }, 'With'),
            h('th', { scope: 'col' }, 'Without'),
          ),
        ),
      h('tbody', null, twin && sagRows(session, twin), handRows(compared)),
    ),
    twin && h('p', { class: 'said-beside', 'data-beside-said': true }, told(twin.comparison.text)),
    twin &&
      HAND.map(([state, name]) =>
        h(
          'p',
          { key: state, class: 'said-beside' },
          `${name === 'fired' ? 'Fired' : 'Bone dry'}: ${told(twin.handling[state].text)}`,
        ),
      ),
    h(
      'details',
      null,
      h('summary', null, 'In the hand, in words'),
      [...new Set(HAND.flatMap(([state]) => hand[state].text))].map((text) =>
        h('p', { key: text }, told(text)),
      ),
    ),
  );
};
