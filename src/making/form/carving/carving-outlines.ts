import type { Form } from '../form-shape.ts';
import { outward } from '../place-nodes.ts';
import { judgeCarving } from './judge.ts';

/** One closed outline as it lies on the wall. */
export interface CarvingOutline {
  /** Place in the form's carving list. */
  readonly carving: number;
  /** x, y, z of its points on the outer face, m, the piece upright as drawn; the last joins the first. */
  readonly points: Float64Array;
  /** Whether a fault of the form is about this one. */
  readonly bad: boolean;
}

/** So far in front of the outer face that the wall does not hide the line, mm. */
const IN_FRONT = 0.2;

/**
 * All outlines of a form, good and bad, to be drawn over its picture; for a form whose carving is wrong too, so take
 * it as the schema reads it. Its body must be sound. Outlines that cannot be read at all have nothing to draw.
 */
export const carvingOutlines = (form: Form): CarvingOutline[] => {
  if (form.carving.length === 0) return [];
  const { surface, wall, laid, lines, bad } = judgeCarving(form);
  return lines.map((line, k) => {
    const points = new Float64Array(3 * line.x.length);
    const out = new Float64Array(3);
    for (let i = 0; i < line.x.length; i++) {
      const length = Math.min(wall.to, Math.max(0, line.length[i]));
      const angle = wall.angle(length, line.x[i]);
      surface.at(length, angle, points, 3 * i);
      outward(surface, length, angle, out);
      const by = 0.5 * surface.thickness(length, angle) + IN_FRONT;
      for (let j = 0; j < 3; j++) points[3 * i + j] = (points[3 * i + j] + by * out[j]) / 1000;
    }
    return { carving: laid[k].carving, points, bad: bad[k] };
  });
};
