import { h } from 'preact';
import type { Paper } from '../../../making/paper/page.ts';
import { PROTOCOLS, type ProtocolKind, TITLES } from '../../../making/protocols/sheet-parts.ts';

/** What each protocol gives, in the words of the bench. */
const GIVES: Readonly<Record<ProtocolKind, string>> = {
  'sag-bar': 'How soft the clay goes in your fire.',
  'shrinkage-bar': 'Drying and firing shrinkage, in each direction.',
  absorption: 'Fired density and open pores, by three weighings.',
  'bars-at-holds': 'How softness grows with heat: bars at several peaks and holds.',
  'witness-cones': 'By how much your kiln’s thermometer is off.',
};

const shelf = h('path', { class: 'shelf', d: 'M4 54H116' });

const bar = (x: number, wide: number, sag: number) => [
  h('path', { class: 'support', d: `M${x + 6} 54V26h5v28ZM${x + wide - 11} 54V26h5v28Z` }),
  h('path', {
    class: 'clay',
    d: `M${x} 20L${x + 8} 21Q${x + wide / 2} ${22 + 2 * sag} ${x + wide - 8} 21L${x + wide} 20L${x + wide} 25L${x + wide - 8} 26Q${x + wide / 2} ${27 + 2 * sag} ${x + 8} 26L${x} 25Z`,
  }),
];

const cone = (x: number, degrees: number) => {
  const bent = degrees / 90;
  return h('path', {
    class: 'clay',
    d: `M${x} 54Q${x + 5} ${20 + 8 * bent} ${x + 6 + 24 * bent} ${12 + 38 * bent}Q${x + 13} ${26 + 6 * bent} ${x + 14} 54Z`,
  });
};

const DRAWINGS: Readonly<Record<ProtocolKind, unknown>> = {
  'sag-bar': [shelf, ...bar(14, 92, 10)],
  'shrinkage-bar': [
    h('path', { class: 'clay', d: 'M8 10H112V24H8ZM14 38H106V52H14Z' }),
    h('path', { class: 'mark', d: 'M18 12V22M102 12V22M23 40V50M97 40V50M18 31H102M18 28v6M102 28v6' }),
  ],
  absorption: [
    h('path', { class: 'water', d: 'M30 22H90V56H30Z' }),
    h('path', { class: 'support', d: 'M28 14H30V56H90V14H92V58H28Z' }),
    h('path', { class: 'clay', d: 'M48 34L70 31L74 46L52 49Z' }),
    h('path', { class: 'mark', d: 'M60 4V32' }),
  ],
  'bars-at-holds': [shelf, ...bar(4, 34, 2), ...bar(43, 34, 6), ...bar(82, 34, 11)],
  'witness-cones': [shelf, cone(12, 84), cone(46, 45), cone(80, 6)],
};

interface Props {
  readonly print: (kind: ProtocolKind, paper: Paper) => void;
}

/** The five protocols, each with its two papers. */
export const ProtocolTiles = ({ print }: Props) =>
  h(
    'ul',
    { class: 'protocol-tiles' },
    PROTOCOLS.map((kind) =>
      h(
        'li',
        { key: kind, 'data-protocol': kind },
        h('svg', { viewBox: '0 0 120 60', 'aria-hidden': true }, DRAWINGS[kind] as never),
        h('h3', null, TITLES[kind]),
        h('p', { class: 'hint' }, GIVES[kind]),
        h(
          'div',
          { class: 'row', role: 'group', 'aria-label': `Print ${TITLES[kind]}` },
          h('span', { class: 'name' }, 'Print on'),
          (
            [
              ['a4', 'A4'],
              ['letter', 'Letter'],
            ] as const
          ).map(([paper, name]) =>
            h(
              'button',
              {
                key: paper,
                type: 'button',
                'data-print': `${kind} ${paper}`,
                'aria-label': `${TITLES[kind]} on ${name}`,
                onClick: () => print(kind, paper),
              },
              name,
            ),
          ),
        ),
      ),
    ),
  );
