import type { Form } from '../../making/form/form.ts';
import { mm } from '../../making/paper/svg-text.ts';
import { BISCUIT, INK, PALE_INK, PAPER } from './ink.ts';
import { pngOf } from './png.ts';
import { pathOf, tag, words } from './svg.ts';

const WIDTH = 160;
const HEIGHT = 160;
const DOTS_PER_MM = 4;

/** The outline of a form as a small picture that says it is no photograph: it stands for one in the invented studio. */
export const silhouette = (form: Form): Promise<Uint8Array> => {
  const widest = Math.max(...form.line.map(({ radius_mm }) => radius_mm));
  const highest = Math.max(...form.line.map(({ height_mm }) => height_mm));
  const scale = Math.min((WIDTH - 40) / (2 * widest), (HEIGHT - 50) / highest);
  const side = (sign: 1 | -1) =>
    form.line.map(
      ({ radius_mm, height_mm }) =>
        [WIDTH / 2 + sign * radius_mm * scale, HEIGHT - 25 - height_mm * scale] as const,
    );
  const outline = pathOf([...side(1), ...side(-1).reverse()], true);
  const svg = tag(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      width: `${WIDTH}mm`,
      height: `${HEIGHT}mm`,
      viewBox: `0 0 ${mm(WIDTH)} ${mm(HEIGHT)}`,
    },
    [
      tag('rect', { width: WIDTH, height: HEIGHT, fill: PAPER }),
      tag('path', { d: outline, fill: BISCUIT, stroke: INK, 'stroke-width': 0.6 }),
      words(WIDTH / 2, HEIGHT - 10, `${form.name}: an outline, invented, no photograph`, {
        size: 5,
        colour: PALE_INK,
        anchor: 'middle',
      }),
    ].join(''),
  );
  return pngOf(svg, DOTS_PER_MM);
};
