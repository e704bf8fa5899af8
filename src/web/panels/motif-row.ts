import { h } from 'preact';
import { MOTIFS, type Outline } from '../../making/form/carving/carving-shape.ts';
import { motifPath } from '../../making/form/carving/motifs.ts';
import type { Session } from '../session.ts';
import type { Path } from '../state/at.ts';

/** Ready outlines are shown in a box this large, mm. */
const WIDE = 14;
const HIGH = 22;
const ROUND = 16;

const shape = (path: string, box: string) =>
  h('svg', { viewBox: box, width: 24, height: 28, 'aria-hidden': true }, h('path', { d: path }));

/** Round things are drawn in a square, those of a hundred units in their own box. */
const motifShape = (motif: (typeof MOTIFS)[number]) => {
  if (motif === 'slot') return shape(motifPath(motif, 10, HIGH), `-3 -1 16 ${HIGH + 2}`);
  if (motif === 'arch') return shape(motifPath(motif, WIDE, HIGH), `-1 -1 ${WIDE + 2} ${HIGH + 2}`);
  const scale = motif === 'round' ? ROUND / 100 : WIDE / 100;
  return h(
    'svg',
    { viewBox: '-1 -1 16 24', width: 24, height: 28, 'aria-hidden': true },
    h('path', {
      d: motifPath(motif, WIDE, HIGH),
      transform:
        motif === 'round' ? `translate(0 4) scale(${scale * 0.87})` : `scale(${scale} ${HIGH / 100})`,
    }),
  );
};

/** Its own outline to begin with: a closed curve that is none of the ready ones. */
const OWN = 'M0 10 Q5 0 10 10 Q5 20 0 10 Z';

/** Which outline: one of the ready ones by its shape, or a path of one's own. */
export const motifRow = (session: Session, at: Path, outline: Outline, name: string) => {
  const put = (next: Outline): void => {
    session.edit([...at, 'outline'], next);
  };
  return [
    h(
      'div',
      { key: 'm', class: 'motifs', role: 'group', 'aria-label': `${name}: outline` },
      MOTIFS.map((motif) =>
        h(
          'button',
          {
            key: motif,
            type: 'button',
            class: 'tick',
            'aria-label': motif,
            title: motif,
            'aria-pressed': 'motif' in outline && outline.motif === motif,
            'data-motif': motif,
            onClick: () => put({ motif }),
          },
          motifShape(motif),
        ),
      ),
      h(
        'button',
        {
          type: 'button',
          class: 'tick',
          'aria-pressed': 'path' in outline,
          'data-motif': 'own',
          onClick: () => {
            if (!('path' in outline)) put({ path: OWN });
          },
        },
        'own',
      ),
    ),
    'path' in outline &&
      h(
        'label',
        { key: 'p', class: 'own-path' },
        h('span', { class: 'name' }, 'Outline as SVG path data, y down; width and height give the size'),
        h('textarea', {
          value: outline.path,
          rows: 3,
          spellcheck: false,
          'data-field': 'path',
          onChange: (event: Event) => put({ path: (event.target as HTMLTextAreaElement).value }),
        }),
      ),
  ];
};
