import { h } from 'preact';
import type { DraftPiece } from '../../state/unloading-draft.ts';
import { type Lengths, lengthReading, readWithUnit } from '../../words.ts';

const WIDTH = 360;
const HEIGHT = 330;
const MARGIN = { side: 46, top: 34, shelf: 300 } as const;

interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
}

const boxOf = (ring: ArrayLike<number>): Box => {
  let [left, right, top] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0];
  for (let i = 0; i < ring.length; i += 2) {
    left = Math.min(left, ring[i]);
    right = Math.max(right, ring[i]);
    top = Math.max(top, ring[i + 1]);
  }
  return { left, right, top };
};

const pathOf = (ring: ArrayLike<number>, at: (x: number, z: number) => string): string => {
  const points: string[] = [];
  for (let i = 0; i < ring.length; i += 2) points.push(at(ring[i], ring[i + 1]));
  return `M${points.join('L')}Z`;
};

/** The photographed outline, laid middle on middle. */
const photographed = (piece: DraftPiece, foreseen: Box): Float64Array | undefined => {
  if (!piece.outline) return undefined;
  const ring = Float64Array.from(piece.outline.points_mm.flat(), (x) => x / 1000);
  const own = boxOf(ring);
  const shift = (foreseen.left + foreseen.right - own.left - own.right) / 2;
  return ring.map((x, i) => (i % 2 === 0 ? x + shift : x));
};

/** The outline that was foreseen, from one side, with its height and width; the photographed one over it. */
export const outlineDrawing = (ring: Float64Array, piece: DraftPiece, lengths: Lengths) => {
  const box = boxOf(ring);
  const own = photographed(piece, box);
  const whole = boxOf(own ? [...ring, ...own] : ring);
  const scale = Math.min(
    (WIDTH - 2 * MARGIN.side) / (whole.right - whole.left),
    (MARGIN.shelf - MARGIN.top) / whole.top,
  );
  const middle = (whole.left + whole.right) / 2;
  const X = (x: number): number => WIDTH / 2 + scale * (x - middle);
  const Y = (z: number): number => MARGIN.shelf - scale * z;
  const at = (x: number, z: number): string => `${X(x).toFixed(1)} ${Y(z).toFixed(1)}`;
  const [left, right, top] = [X(box.left), X(box.right), Y(box.top)];
  const reading = lengthReading(lengths);
  const width = readWithUnit(box.right - box.left, reading);
  const height = readWithUnit(box.top, reading);
  return h(
    'svg',
    {
      class: 'outline-drawing',
      viewBox: `0 0 ${WIDTH} ${HEIGHT}`,
      role: 'img',
      'aria-label': `Foreseen outline as it stands in the kiln: ${width} across, ${height} high`,
    },
    h('path', { class: 'shelf', d: `M8 ${MARGIN.shelf}H${WIDTH - 8}` }),
    h('path', { class: 'foreseen', d: pathOf(ring, at) }),
    own && h('path', { class: 'photographed', d: pathOf(own, at) }),
    h('path', {
      class: 'rule',
      d: `M${left} ${top - 14}H${right}M${left} ${top - 19}v10M${right} ${top - 19}v10`,
    }),
    h('text', { x: (left + right) / 2, y: top - 19, 'text-anchor': 'middle' }, width),
    h('path', {
      class: 'rule',
      d: `M${left - 14} ${top}V${MARGIN.shelf}M${left - 19} ${top}h10M${left - 19} ${MARGIN.shelf}h10`,
    }),
    h(
      'text',
      {
        transform: `translate(${left - 20} ${(top + MARGIN.shelf) / 2}) rotate(-90)`,
        'text-anchor': 'middle',
      },
      height,
    ),
    h(
      'text',
      { class: 'caption', x: WIDTH / 2, y: HEIGHT - 8, 'text-anchor': 'middle' },
      'as it should stand in the kiln when it opens',
    ),
  );
};
