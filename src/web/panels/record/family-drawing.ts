import { h } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { FormTold } from '../../state/record/answers.ts';
import { silhouette } from '../unloading/silhouette.ts';
import { layOutFamily, type Placed } from './family-layout.ts';

const WIDEST = 1196;
/** Narrower than this it is scrolled. */
const NARROWEST = 480;
const CARD = 128;
const ROW = 178;
const TOP = 30;

const middle = (row: number): number => TOP + row * ROW + 62;

/** From a parent to its child: along the row, then over to the child's. */
const branch = ({ form, x, row, from }: Placed) => {
  if (!from) return null;
  const [x1, y1, x2, y2] = [from.x + CARD * 0.72, middle(from.row), x + CARD * 0.28, middle(row)];
  const bend = Math.max(24, (x2 - x1) / 2);
  return h('path', {
    key: `b${x}-${row}`,
    class: 'branch',
    'data-to': form.form,
    d: `M${x1} ${y1}C${x1 + bend} ${y1} ${x2 - bend} ${y2} ${x2} ${y2}`,
  });
};

/** What became of its pieces: sold, still here or on their way, lost. */
export const outcomeText = ({ pieces, sold, lost }: Pick<FormTold, 'pieces' | 'sold' | 'lost'>): string =>
  pieces === 0
    ? 'no piece yet'
    : `${pieces} ${pieces === 1 ? 'piece' : 'pieces'}: ${sold} sold, ${pieces - sold - lost} here or on the way, ${lost} lost`;

const BAR = CARD - 16;
const outcomeBar = ({ pieces, sold, lost }: FormTold, x: number, y: number) => {
  if (pieces === 0) return null;
  const at = (n: number): number => (n / pieces) * BAR;
  return h(
    'g',
    { class: 'outcome' },
    h('title', null, outcomeText({ pieces, sold, lost })),
    h('rect', { class: 'sold', x, y, width: at(sold), height: 10 }),
    h('rect', { class: 'here', x: x + at(sold), y, width: at(pieces - sold - lost), height: 10 }),
    h('rect', { class: 'lost', x: x + at(pieces - lost), y, width: at(lost), height: 10 }),
  );
};

const wrapped = (name: string): string[] => {
  const lines: string[] = [''];
  for (const word of name.split(' ')) {
    const last = lines.length - 1;
    const longer = `${lines[last]} ${word}`.trim();
    if (longer.length <= 15 || lines[last] === '') lines[last] = longer;
    else lines.push(word);
  }
  return lines.length > 2 ? [lines[0]!, `${lines[1]!.slice(0, 16)}…`] : lines;
};

const card = ({ form, x, row }: Placed, chosen: boolean) => {
  const y = TOP + row * ROW;
  return h(
    'a',
    {
      key: form.form,
      href: `#family/${form.form}`,
      class: `form-card${chosen ? ' chosen' : ''}`,
      'aria-current': chosen ? 'true' : undefined,
      'data-form': form.form,
    },
    h('rect', { class: 'ground', x, y, width: CARD, height: ROW - 20, rx: 8 }),
    h(
      'svg',
      { x: x + 24, y: y + 4, width: CARD - 48, height: CARD - 48 },
      silhouette(form.json, { attitude: 'upright', lean_deg: 0 }),
    ),
    wrapped(form.name).map((line, i) =>
      h('text', { key: line, x: x + CARD / 2, y: y + 100 + i * 17, 'text-anchor': 'middle' }, line),
    ),
    h(
      'text',
      { class: 'pale', x: x + CARD / 2, y: y + 134, 'text-anchor': 'middle' },
      form.pieces === 0 ? 'no piece yet' : `${form.pieces} ${form.pieces === 1 ? 'piece' : 'pieces'}`,
    ),
    outcomeBar(form, x + 8, y + 142),
  );
};

/** A family of forms over the years: who descends from whom, and what became of the pieces of each. */
export const FamilyDrawing = ({
  forms,
  name,
  chosen,
}: {
  readonly forms: readonly FormTold[];
  readonly name: string;
  readonly chosen: number | undefined;
}) => {
  const box = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(WIDEST);
  useEffect(() => {
    // Laid out anew at each width, so that its words keep their size.
    const watch = new ResizeObserver(([seen]) => {
      if (seen) setWidth(Math.max(NARROWEST, Math.floor(seen.contentRect.width)));
    });
    if (box.current) watch.observe(box.current);
    return () => watch.disconnect();
  }, []);
  const { placed, rows, marks } = layOutFamily(forms, width, CARD);
  const height = TOP + rows * ROW;
  return h(
    'div',
    { class: 'family-scroll', ref: box },
    h(
      'svg',
      {
        class: 'family-drawing',
        viewBox: `0 0 ${width} ${height}`,
        width,
        height,
        role: 'group',
        'aria-label': `${name}: its forms over time, and what became of their pieces`,
      },
      marks.map(({ x, text }) =>
        h(
          'g',
          { key: text, class: 'year', 'aria-hidden': true },
          h('path', { d: `M${x} 20V${height}` }),
          h('text', { x: x + 4, y: 14 }, text),
        ),
      ),
      placed.map(branch),
      placed.map((one) => card(one, one.form.form === chosen)),
    ),
  );
};
