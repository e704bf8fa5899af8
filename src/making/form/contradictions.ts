import { type Fault, shownValue } from '../../error.ts';
import type { Alteration } from './alterations/table.ts';
import { selfCrossing } from './crossing.ts';
import type { Form } from './form-shape.ts';
import { type OuterLine, outerLine } from './line.ts';
import { formSection } from './section.ts';
import { alteredSurface } from './surface.ts';
import { unevenFaults } from './uneven/uneven-faults.ts';

/** What a form says that no clay can do. Every fault names the field, what it holds and what would be right. */

/** Smaller than this in every direction is no pot but a slip of units. */
const SMALLEST_mm = 10;
/** So much must stay free round the axis. */
const LEFT_INSIDE_mm = 0.5;
/** A lip may be cut down to this share of the wall, not further. */
const DEEPEST_CUT = 0.6;

const fault = (field: string, value: unknown, expected: string): Fault => ({
  field: `form.${field}`,
  value: shownValue(value),
  expected,
});

const round = (x: number): number => Math.round(x * 10) / 10;

const rising = (list: readonly { readonly along: number }[], field: string): Fault[] =>
  list.flatMap((point, i) =>
    i > 0 && point.along <= list[i - 1].along
      ? [fault(`${field}[${i}].along`, point.along, `more than ${list[i - 1].along}, the point before it`)]
      : [],
  );

const alterationFaults = (a: Alteration, i: number): Fault[] => {
  if (a.kind === 'lobes') return rising(a.depth, `alterations[${i}].depth`);
  if (a.kind === 'facets' && a.to <= a.from)
    return [fault(`alterations[${i}].to`, a.to, `more than from (${a.from})`)];
  return [];
};

/** Faults in the lists themselves: order, doubles, units. */
export const listFaults = (form: Form): Fault[] => {
  const faults: Fault[] = [];
  const { line } = form;
  if (line[0].height_mm !== 0)
    faults.push(fault('line[0].height_mm', line[0].height_mm, '0: the line starts on the shelf'));
  for (let i = 1; i < line.length; i++)
    if (
      Math.hypot(line[i].radius_mm - line[i - 1].radius_mm, line[i].height_mm - line[i - 1].height_mm) < 0.05
    )
      faults.push(fault(`line[${i}]`, line[i], 'a point at least 0.05 mm from the one before it'));
  const largest = Math.max(...line.map((p) => Math.max(2 * p.radius_mm, p.height_mm)));
  if (largest < SMALLEST_mm)
    faults.push(
      fault(
        'line',
        `${largest} mm at the largest`,
        `a piece of at least ${SMALLEST_mm} mm; sizes are in mm, are these metres or cm?`,
      ),
    );
  faults.push(...rising(form.wall, 'wall'));
  form.alterations.forEach((a, i) => {
    faults.push(...alterationFaults(a, i));
  });
  return faults;
};

const lineFaults = (o: OuterLine): Fault[] => {
  const at = selfCrossing(o.radius, o.height);
  if (!at) return [];
  return [
    fault(
      'line',
      `crosses itself at radius ${round(at.x)} mm, height ${round(at.y)} mm`,
      'points in order from foot edge to lip, the line never meeting itself',
    ),
  ];
};

/** The wall point that says most about the thickness at this place. */
const nearestWall = (form: Form, along: number): number =>
  form.wall.reduce(
    (best, w, i) => (Math.abs(w.along - along) < Math.abs(form.wall[best].along - along) ? i : best),
    0,
  );

const wallFaults = (form: Form, o: OuterLine): Fault[] => {
  let worst = -1;
  let least = LEFT_INSIDE_mm;
  for (let i = 0; i < o.radius.length; i++) {
    const left = o.radius[i] - o.thickness[i] * Math.max(0, o.normalRadial[i]);
    if (left < least) [least, worst] = [left, i];
  }
  if (worst < 0) return [];
  const at = nearestWall(form, o.along[worst]);
  const room = (o.radius[worst] - LEFT_INSIDE_mm) / Math.max(0.05, o.normalRadial[worst]);
  return [
    fault(
      `wall[${at}].thickness_mm`,
      form.wall[at].thickness_mm,
      `less than ${round(room)} mm: the outside is only ${round(o.radius[worst])} mm from the axis at height ` +
        `${round(o.height[worst])} mm, and something must stay hollow`,
    ),
  ];
};

const footFaults = (form: Form, o: OuterLine): Fault[] => {
  const { foot } = form;
  if (foot.kind === 'none') return [];
  const top = foot.thickness_mm + (foot.kind === 'ring' ? foot.recess_mm : 0);
  const highest = o.height.reduce((a, b) => Math.max(a, b), 0);
  const faults: Fault[] = [];
  if (top > 0.9 * highest)
    faults.push(
      fault(
        'foot.thickness_mm',
        foot.thickness_mm,
        `a floor whose top (here ${round(top)} mm up) is below ${round(0.9 * highest)} mm, nine tenths of the piece`,
      ),
    );
  const middle = top - foot.thickness_mm / 2;
  const rises = o.height.reduce((a, z, i) => Math.max(a, z - 0.5 * o.thickness[i] * o.normalUp[i]), 0);
  if (faults.length === 0 && rises < middle + 1)
    faults.push(
      fault(
        'line',
        `a wall whose middle rises to ${round(rises)} mm`,
        `a wall that rises above the middle of the floor, ${round(middle)} mm up; this one lies flat over it`,
      ),
    );
  const most = form.line[0].radius_mm - 1;
  if (foot.kind === 'ring' && foot.width_mm > most)
    faults.push(
      fault(
        'foot.width_mm',
        foot.width_mm,
        `at most ${round(most)} mm: the foot edge is ${most + 1} mm from the axis`,
      ),
    );
  return faults;
};

const cutFaults = (form: Form, wall_mm: number): Fault[] => {
  const cuts = form.alterations.map((a) => (a.kind === 'cut lip' ? a.depth_mm : 0));
  const sum = cuts.reduce((a, b) => a + b, 0);
  if (sum <= DEEPEST_CUT * wall_mm) return [];
  const i = cuts.indexOf(Math.max(...cuts));
  return [
    fault(
      `alterations[${i}].depth_mm`,
      cuts[i],
      `lip cuts of at most ${round(DEEPEST_CUT * wall_mm)} mm together: the wall is ${round(wall_mm)} mm long`,
    ),
  ];
};

/** The closest the inside of the altered wall comes to the axis, mm, and where. */
const nearestAxis = (form: Form, alterations: readonly Alteration[]) => {
  const surface = alteredSurface(formSection(form), alterations);
  const p = new Float64Array(3);
  const { section } = surface;
  let near = { left: Number.POSITIVE_INFINITY, height: 0 };
  for (let i = 0; i <= 24; i++)
    for (let k = 0; k < 96; k++) {
      const angle = (2 * Math.PI * (k + 0.25)) / 96;
      const s = section.wallFrom + ((surface.total - section.wallFrom) * i) / 24;
      surface.at(s, angle, p, 0);
      const left = p[0] * Math.cos(angle) + p[1] * Math.sin(angle) - 0.5 * surface.thickness(s, angle);
      if (left < near.left) near = { left, height: p[2] };
    }
  return near;
};

const throughAxis = (form: Form): Fault[] => {
  if (form.alterations.length === 0 || nearestAxis(form, form.alterations).left > LEFT_INSIDE_mm) return [];
  // The first one after which the wall is gone is the one to name.
  for (let k = 1; k <= form.alterations.length; k++) {
    const near = nearestAxis(form, form.alterations.slice(0, k));
    if (near.left > LEFT_INSIDE_mm) continue;
    const a = form.alterations[k - 1];
    return [
      fault(
        `alterations[${k - 1}]`,
        a,
        `a shallower one: at height ${round(near.height)} mm this pushes the wall through the axis`,
      ),
    ];
  }
  return [];
};

const sectionFaults = (form: Form): Fault[] => {
  const { radius, height, thickness, outer, start } = formSection(form);
  const at = selfCrossing(radius, height);
  if (!at) return unevenFaults(form.uneven, outer, start);
  return [
    fault(
      'wall',
      `${round(thickness[at.first])} mm thick at radius ${round(at.x)} mm, height ${round(at.y)} mm`,
      'a thinner wall or an ampler bend: the wall runs into itself or the floor there',
    ),
  ];
};

/** Faults of the body the lists describe: crossings, walls thicker than there is room for, cuts too deep. */
export const bodyFaults = (form: Form): Fault[] => {
  const o = outerLine(form);
  const shape = [...lineFaults(o), ...wallFaults(form, o), ...footFaults(form, o)];
  if (shape.length > 0) return shape;
  const wall_mm = o.length[o.length.length - 1];
  const body = [...sectionFaults(form), ...cutFaults(form, wall_mm)];
  return body.length > 0 ? body : throughAxis(form);
};
