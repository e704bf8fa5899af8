import { h } from 'preact';
import type { Form } from '../../../making/form/form.ts';
import { type OuterLine, outerLine } from '../../../making/form/line.ts';
import { type PaperFrame, xOf, yOf } from './frame.ts';

type Corner = readonly [radius_mm: number, height_mm: number];

const pathOf = (frame: PaperFrame, corners: readonly Corner[], mirrored = false): string =>
  corners
    .map(
      ([r, z], i) =>
        `${i === 0 ? 'M' : 'L'}${xOf(frame, mirrored ? -r : r).toFixed(1)} ${yOf(frame, z).toFixed(1)}`,
    )
    .join('');

/** Inner face of the wall where the drawn line has gone so far, mm. */
export const innerAt = (line: OuterLine, i: number): Corner => [
  line.radius[i]! - line.thickness[i]! * line.normalRadial[i]!,
  line.height[i]! - line.thickness[i]! * line.normalUp[i]!,
];

const outer = (line: OuterLine): Corner[] => Array.from(line.radius, (r, i) => [r, line.height[i]!]);
const inner = (line: OuterLine): Corner[] => Array.from(line.radius, (_, i) => innerAt(line, i));

const floorBlocks = (form: Form, edge_mm: number): Corner[][] => {
  const { foot } = form;
  const block = (x0: number, x1: number, y0: number, y1: number): Corner[] => [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ];
  if (foot.kind === 'none') return [];
  if (foot.kind === 'disc') return [block(0, edge_mm, 0, foot.thickness_mm)];
  const top = foot.recess_mm + foot.thickness_mm;
  return [block(0, edge_mm, foot.recess_mm, top), block(edge_mm - foot.width_mm, edge_mm, 0, top)];
};

/** The piece half cut open: wall and floor as clay on the right, the far side as it looks from outside. */
export const profile = (form: Form, frame: PaperFrame) => {
  const line = outerLine(form);
  const outline = outer(line);
  const far: Corner[] = [...outline, [0, line.height.at(-1)!], [0, line.height[0]!]];
  const cut = `${pathOf(frame, [...outline, ...inner(line).reverse()])}Z`;
  const floor = floorBlocks(form, line.radius[0]!).map((block) => `${pathOf(frame, block)}Z`);
  return h(
    'g',
    { class: 'profile', 'aria-hidden': true },
    h('path', { class: 'far', d: `${pathOf(frame, far, true)}Z` }),
    h('path', { class: 'far-line', d: pathOf(frame, outline, true) }),
    h('path', { class: 'clay', d: [...floor, cut].join('') }),
    h('path', { class: 'line', d: pathOf(frame, outline) }),
  );
};
