import type { Fault } from '../../error.ts';
import { type CarvingOutline, carvingOutlines } from '../../making/form/carving/carving-outlines.ts';
import { bodyFaults, listFaults } from '../../making/form/contradictions.ts';
import { Form } from '../../making/form/form.ts';
import { meshForm } from '../../making/form/mesh-form.ts';
import type { Mark, Picture } from './picture.ts';
import { cutSection } from './section.ts';
import type { Flat } from './svg.ts';

const TRIANGLES = 3000;
/** Arms of the cross that marks a place, m. */
const CROSS_m = 0.003;

type Point = readonly [number, number, number];

const middleOf = ({ points }: CarvingOutline): Point => {
  const sum: [number, number, number] = [0, 0, 0];
  points.forEach((x, i) => {
    sum[i % 3] += (3 * x) / points.length;
  });
  return sum;
};

/** Seen from the side `from_rad` of the piece: across to the right, up, and how far in front of the axis. */
const seen = ([x, y, z]: Point, from_rad: number): { at: readonly [number, number]; front: number } => ({
  at: [-x * Math.sin(from_rad) + y * Math.cos(from_rad), z],
  front: x * Math.cos(from_rad) + y * Math.sin(from_rad),
});

const cross = ([u, z]: readonly [number, number]): Mark[] =>
  [1, -1].map((s) => ({
    line: [
      [u - CROSS_m, z - s * CROSS_m],
      [u + CROSS_m, z + s * CROSS_m],
    ] as Flat,
    closed: false,
    bad: true,
  }));

/** The body alone, cut at right angles to the look from `from_rad`; undefined where even that cannot be drawn. */
const bodyFrom = (form: Form, from_rad: number): Picture['before'] => {
  const mesh = meshForm(form, { triangles: TRIANGLES, scale: 1 });
  const plane = { x0_m: 0, y0_m: 0, along_rad: from_rad + Math.PI / 2 };
  return cutSection(mesh, new Float64Array(mesh.thickness_m.length), plane);
};

const told = (hidden: number): string[] =>
  hidden === 0 ? [] : [`${hidden} more at fault ${hidden === 1 ? 'lies' : 'lie'} on the far side.`];

const carvingAtFault = (form: Form, sentences: readonly string[]): Picture => {
  const outlines = carvingOutlines(form);
  const first = outlines.find(({ bad }) => bad);
  const [x, y] = first ? middleOf(first) : [1, 0];
  const from_rad = Math.atan2(y, x);
  const inFront = (o: CarvingOutline): boolean => seen(middleOf(o), from_rad).front > 0;
  const marks = outlines.filter(inFront).map(
    ({ points, bad }): Mark => ({
      line: Array.from(
        { length: points.length / 3 },
        (_, i) => seen([points[3 * i], points[3 * i + 1], points[3 * i + 2]], from_rad).at,
      ),
      closed: true,
      bad,
    }),
  );
  const hidden = outlines.filter((o) => o.bad && !inFront(o)).length;
  return {
    caption: 'As drawn, seen from the side at fault',
    before: bodyFrom({ ...form, carving: [] }, from_rad),
    after: [],
    marks,
    sentences: [...sentences, ...told(hidden)],
  };
};

/** Places of the callipers that the faults name, marked on the outer line. */
const callipersAtFault = (form: Form, faults: readonly Fault[], sentences: readonly string[]): Picture => {
  const { uneven: _, ...body } = form;
  const plain: Form = { ...body, carving: [] };
  const named = faults.flatMap(({ field }) => /uneven\.callipers\[(\d+)\]/.exec(field)?.[1] ?? []);
  const readings = [...new Set(named.map(Number))].flatMap((i) => form.uneven?.callipers[i] ?? []);
  const from_rad = ((readings[0]?.angle_deg ?? 90) * Math.PI) / 180 - Math.PI / 2;
  const before = bodyFrom(plain, from_rad);
  const marks = readings.flatMap(({ along, angle_deg }) => {
    const right = Math.cos((angle_deg * Math.PI) / 180 - from_rad - Math.PI / 2) > 0;
    const at = placeAlong(form, along);
    return cross([right ? at[0] : -at[0], at[1]]);
  });
  return { caption: 'As drawn, the callipers at fault crossed', before, after: [], marks, sentences };
};

/** Radius and height of a share of the drawn line, m, along its straight pieces: near enough to point at. */
const placeAlong = ({ line }: Form, along: number): readonly [number, number] => {
  const lengths = line.map((p, i) =>
    i === 0 ? 0 : Math.hypot(p.radius_mm - line[i - 1].radius_mm, p.height_mm - line[i - 1].height_mm),
  );
  let left = Math.min(1, Math.max(0, along)) * lengths.reduce((a, b) => a + b, 0);
  for (let i = 1; i < line.length; i++) {
    if (left > lengths[i] && i + 1 < line.length) {
      left -= lengths[i];
      continue;
    }
    const t = Math.min(1, left / lengths[i]);
    const [a, b] = [line[i - 1], line[i]];
    return [
      (a.radius_mm + t * (b.radius_mm - a.radius_mm)) / 1000,
      (a.height_mm + t * (b.height_mm - a.height_mm)) / 1000,
    ];
  }
  return [line[0].radius_mm / 1000, line[0].height_mm / 1000];
};

/**
 * A form that was refused, with what it was refused for in red.
 * @param json the form as the file holds it
 * @returns undefined where the file is no form, or its body itself is at fault and cannot be drawn
 */
export const formAtFault = (
  json: unknown,
  faults: readonly Fault[],
  sentences: readonly string[],
): { readonly name: string; readonly picture: Picture } | undefined => {
  const read = Form.safeParse(json);
  if (!read.success) return undefined;
  const form = read.data;
  const sound = (f: Form): boolean => [listFaults, bodyFaults].every((look) => look(f).length === 0);
  const { uneven: _, ...even } = form;
  if (sound({ ...form, carving: [] })) return { name: form.name, picture: carvingAtFault(form, sentences) };
  if (sound({ ...even, carving: [] }))
    return { name: form.name, picture: callipersAtFault(form, faults, sentences) };
  return undefined;
};
