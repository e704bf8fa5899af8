import { type CarvingOutline, carvingOutlines } from '../../making/form/carving/carving-outlines.ts';
import type { Opening } from '../../making/form/carving/carving-shape.ts';
import type { Form } from '../../making/form/form.ts';

/** A reading is shown as a ring of this width on the wall, mm. */
const RING_mm = 4;

/** Where the callipers were put, as small rings on the wall; `bad` says which of them will not do. */
export const readingOutlines = (form: Form, bad: (reading: number) => boolean): CarvingOutline[] => {
  const callipers = form.uneven?.callipers ?? [];
  const rings = callipers.map(
    ({ along, angle_deg }): Opening => ({
      kind: 'opening',
      outline: { motif: 'round' },
      width_mm: RING_mm,
      height_mm: RING_mm,
      turn_deg: 0,
      along,
      angle_deg,
      count: 1,
      rows: 1,
      staggered: false,
    }),
  );
  return carvingOutlines({ ...form, carving: rings }).map((line) => ({ ...line, bad: bad(line.carving) }));
};
