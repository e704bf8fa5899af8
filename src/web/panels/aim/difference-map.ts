import { h } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { Aim } from '../../../making/firing/aim/aim-contract.ts';
import { type Lengths, plain } from '../../words.ts';
import type { Made } from '../../worker/aim-jobs.ts';
import { differenceColour, rolledOut, roundAbove } from './difference-picture.ts';

const WIDE = 300;
const HIGH = 260;
const SWATCHES = 21;

const mostOf = (values: ArrayLike<number>, lies: ArrayLike<number>): number => {
  let most = 0;
  for (let i = 0; i < values.length; i++)
    if (!lies[i] && Number.isFinite(values[i])) most = Math.max(most, Math.abs(values[i]!));
  return most;
};

const scaleSaid = (most_m: number, lengths: Lengths): readonly [end: string, unit: string] => {
  const v = lengths === 'mm' ? most_m * 1000 : most_m / 0.0254;
  return [plain(v, v < 0.095 ? 3 : v < 0.95 ? 2 : 1).replace(/\.?0+$/, ''), lengths];
};

const ramp = (most_m: number, lengths: Lengths) => {
  const [end, unit] = scaleSaid(most_m, lengths);
  return h(
    'div',
    { class: 'ramp' },
    h('span', null, `inside ${end}`),
    h(
      'svg',
      { viewBox: `0 0 ${SWATCHES} 1`, preserveAspectRatio: 'none', 'aria-hidden': true },
      Array.from({ length: SWATCHES }, (_, i) =>
        h('rect', {
          key: i,
          x: i,
          y: 0,
          width: 1.05,
          height: 1,
          fill: `rgb(${differenceColour((2 * i) / (SWATCHES - 1) - 1).join()})`,
        }),
      ),
    ),
    h('span', null, `${end} ${unit} outside`),
  );
};

interface Props {
  readonly aim: Aim;
  readonly made: Made | undefined;
  readonly lengths: Lengths;
}

/** Where the fired piece lies outside or inside the wanted one, on the wall rolled out. */
export const DifferenceMap = ({ aim, made, lengths }: Props) => {
  const canvas = useRef<HTMLCanvasElement>(null);
  const values = made ? made.differenceOnAim_m : aim.difference_m;
  const most = mostOf(values, aim.lies);
  const inUnit = lengths === 'mm' ? 1000 : 1 / 0.0254;
  // A difference that is well within what was asked looks it.
  const scale_m = roundAbove(Math.max(most, aim.tolerance_m) * inUnit) / inUnit;
  useEffect(() => {
    const paper = canvas.current?.getContext('2d');
    if (!paper) return;
    const picture = paper.createImageData(WIDE, HIGH);
    picture.data.set(rolledOut(aim.mesh, values, aim.lies, { wide: WIDE, high: HIGH, most: scale_m }));
    paper.putImageData(picture, 0, 0);
  }, [aim, values, scale_m]);
  const wallFrom = aim.mesh.footEdge.length > 0 ? aim.mesh.along[aim.mesh.footEdge[0]!]! : 0;
  const lies = aim.lies.some((l) => l === 1);
  return h(
    'figure',
    { class: 'difference', 'data-most-mm': (1000 * most).toFixed(3) },
    h('h2', null, 'Where it still differs'),
    h(
      'div',
      { class: 'rolled' },
      h('canvas', {
        ref: canvas,
        width: WIDE,
        height: HIGH,
        role: 'img',
        'aria-label':
          'The wall rolled out, coloured by how far the fired piece lies outside or inside the wanted one',
      }),
      h('span', { class: 'edge lip' }, 'lip'),
      wallFrom > 0.05 &&
        h('span', { class: 'edge foot', style: { bottom: `${(100 * wallFrom).toFixed(1)}%` } }, 'foot'),
    ),
    h(
      'p',
      { class: 'round' },
      h('span', null, '0°'),
      h('span', null, '90°'),
      h('span', null, '180°'),
      h('span', null, '270°'),
      h('span', null, '360°'),
    ),
    ramp(scale_m, lengths),
    h(
      'figcaption',
      null,
      `The wall rolled out, once round.${lies ? ' Grey: where it lies on the shelf, which the fire flattens whatever is made.' : ''}`,
    ),
  );
};
