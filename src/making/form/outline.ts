import type { Form } from './form-shape.ts';
import { outerLine } from './line.ts';

export type Corner = readonly [radius: number, height: number];

/** The un-altered section as a pencil would draw it, both lines from the axis (or a tube's lower edge) to the lip. */
export interface Outline {
  readonly outer: readonly Corner[];
  readonly inner: readonly Corner[];
}

const undersideOf = ({ foot, line }: Form): Corner[] => {
  const edge = line[0].radius_mm;
  if (foot.kind === 'none') return [];
  if (foot.kind === 'disc') return [[0, 0]];
  const inside = edge - foot.width_mm;
  return [
    [0, foot.recess_mm],
    [inside, foot.recess_mm],
    [inside, 0],
  ];
};

/** Points of a line from where it first rises to a height, that crossing included. */
const above = (line: readonly Corner[], height: number): Corner[] => {
  const i = line.findIndex((p) => p[1] >= height);
  if (i <= 0) return i === 0 ? [...line] : [];
  const [a, b] = [line[i - 1], line[i]];
  const s = (height - a[1]) / (b[1] - a[1]);
  return [[a[0] + s * (b[0] - a[0]), height], ...line.slice(i)];
};

/**
 * @param scale factor on every length: 1 gives mm as drawn, 0.001 metres
 * @returns the drawn lines, foot and all; unlike the mesh the ring has its true square section here
 */
export const outlineOf = (form: Form, scale: number): Outline => {
  const o = outerLine(form);
  const { foot } = form;
  const outside = Array.from(o.radius, (r, i): Corner => [r, o.height[i]]);
  const inside = Array.from(
    o.radius,
    (r, i): Corner => [r - o.thickness[i] * o.normalRadial[i], o.height[i] - o.thickness[i] * o.normalUp[i]],
  );
  const top = foot.kind === 'none' ? 0 : foot.thickness_mm + (foot.kind === 'ring' ? foot.recess_mm : 0);
  const inner: Corner[] = foot.kind === 'none' ? inside : [[0, top], ...above(inside, top)];
  const sized = (line: readonly Corner[]): Corner[] => line.map(([r, z]) => [r * scale, z * scale]);
  return { outer: sized([...undersideOf(form), ...outside]), inner: sized(inner) };
};
