import { h } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import { scaleBetween } from '../../../making/clay/shrinkage.ts';
import type { Aim } from '../../../making/firing/aim/aim-contract.ts';
import { meshForm } from '../../../making/form/mesh-form.ts';
import type { Work } from '../../state/page.ts';
import type { Lengths } from '../../words.ts';
import type { Made } from '../../worker/aim-jobs.ts';
import { tick } from '../choice.ts';
import {
  boxAround,
  type CutWalls,
  cutThrough,
  pathOf,
  sectionsOf,
  withoutShrinkage,
} from './aim-sections.ts';

const TRIANGLES = 1500;
const ROOM_mm = 12;
/** The scale bar: a round length about a quarter of the drawing. */
const BARS = {
  mm: [10, 20, 50, 100, 200].map((l) => [l, `${l} mm`] as const),
  in: [0.5, 1, 2, 4, 8].map((l) => [l * 25.4, `${l} in`] as const),
} as const;

const barFor = (wide_mm: number, lengths: Lengths): readonly [mm: number, said: string] =>
  BARS[lengths].findLast(([l]) => l <= 0.35 * wide_mm) ?? BARS[lengths][0]!;

/** What is wanted, before anything was looked for. */
const wantedCut = ({ form, clay }: Work): CutWalls => {
  const scale = form.sizes === 'fired' ? 1 : scaleBetween(clay, 'wet', 'fired');
  return cutThrough(meshForm(form, { triangles: TRIANGLES, scale }));
};

const legend = (names: readonly (readonly [cls: string, name: string])[]) =>
  h(
    'ul',
    { class: 'legend' },
    names.map(([cls, name]) =>
      h(
        'li',
        { key: cls },
        h(
          'svg',
          { viewBox: '0 0 30 14', 'aria-hidden': true },
          h('path', { class: cls, d: 'M2 2H28V12H2Z' }),
        ),
        name,
      ),
    ),
  );

interface Props {
  readonly work: Work;
  readonly aim: Aim | undefined;
  readonly made: Made | undefined;
  readonly lengths: Lengths;
}

/** Wanted, green and fired from green, cut through the axis and laid over one another at one scale. */
export const AimDrawing = ({ work, aim, made, lengths }: Props) => {
  const [same, setSame] = useState(false);
  const sections = useMemo(
    () => (aim ? sectionsOf(aim, made) : { wanted: wantedCut(work), green: [], fired: [], lay: false }),
    [aim, made, aim ? undefined : work.form, aim ? undefined : work.clay],
  );
  const { wanted, fired, lay } = sections;
  const green = same && aim ? withoutShrinkage(sections.green, aim.firedScale) : sections.green;
  const box = boxAround([wanted, sections.green, fired], ROOM_mm);
  const [bar_mm, said] = barFor(box.w, lengths);
  const bottom = box.y + box.h;
  const names = [
    ['wanted', 'wanted'] as const,
    ...(sections.green.length > 0
      ? [
          [
            'green',
            same ? 'to make, drawn at fired size' : made ? 'to make by hand, bone dry' : 'to make, bone dry',
          ] as const,
        ]
      : []),
    ...(fired.length > 0 ? [['fired', 'that one, fired'] as const] : []),
  ];
  return h(
    'figure',
    { class: 'aim-drawing', 'data-shows': names.map(([key]) => key).join(' ') },
    h(
      'svg',
      {
        viewBox: `${box.x} ${box.y} ${box.w} ${box.h}`,
        style: { aspectRatio: `${box.w} / ${box.h}` },
        role: 'img',
        'aria-label': `Cut through the axis, one scale: ${names.map(([, name]) => name).join('; ')}.`,
      },
      h('path', { class: 'ground', d: `M${box.x} 0H${box.x + box.w}` }),
      h('path', { class: 'wanted', d: pathOf(wanted) }),
      h('path', { class: 'green', d: pathOf(green) }),
      h('path', { class: 'fired', d: pathOf(fired) }),
      h(
        'g',
        { class: 'bar' },
        h('path', { d: `M${box.x + 4} ${bottom - 3.5}v-3v3h${bar_mm}v-3` }),
        h('text', { x: box.x + 6 + bar_mm, y: bottom - 3.5, 'font-size': Math.max(box.w, box.h) / 32 }, said),
      ),
    ),
    legend(names),
    lay && h('p', { class: 'hint' }, 'Drawn upright; the side it lies on in the kiln is on the right.'),
    sections.green.length > 0 && tick('Draw all at fired size', 'same-size', same, setSame),
  );
};
