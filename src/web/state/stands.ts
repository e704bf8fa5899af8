import type { Prop } from '../../making/firing/props/table.ts';
import type { Setting } from '../../making/firing/setting.ts';
import type { Form } from '../../making/form/form.ts';

/** What a piece may be stood on to begin with: sizes off its own line, so that the first try is near to standing. */

/** Dry is smaller than thrown and larger than fired by about a sixteenth: near enough for a first try. */
const DRY: Readonly<Record<Form['sizes'], number>> = { thrown: 0.94, fired: 1.08 };
const LOWEST_mm = 12;
/** So far beyond the lean at which it would right itself, a nudge does not send it back or roll it off. */
const CLEAR_deg = 11;
const whole = (x: number): number => Math.round(x);

const widest = (form: Form): number => Math.max(...form.line.map((p) => p.radius_mm));
const tallest = (form: Form): number => Math.max(...form.line.map((p) => p.height_mm));

/** Radius of the drawn line at a height, straight between its points, mm. */
const radiusAt = ({ line }: Form, height_mm: number): number => {
  const i = Math.max(
    1,
    line.findIndex((p) => p.height_mm >= height_mm),
  );
  const [a, b] = [line[i - 1]!, line[i]!];
  const rise = b.height_mm - a.height_mm;
  const share = rise === 0 ? 0 : Math.min(1, Math.max(0, (height_mm - a.height_mm) / rise));
  return a.radius_mm + share * (b.radius_mm - a.radius_mm);
};

/** A lean at which the weight is well over the edge of the foot, degrees. */
export const firstLean = (form: Form): number => {
  const tips = Math.atan2(form.line[0]!.radius_mm, 0.45 * tallest(form));
  return Math.min(60, Math.ceil((tips * 180) / Math.PI) + CLEAR_deg);
};

/** The first of a kind lies towards the foot, the next towards the lip, and so on to and fro. */
const sideOf = (already: number): number => (already % 2 === 0 ? -1 : 1);

/** @param already how many of its kind there are */
export const firstProp = (
  kind: Prop['kind'],
  form: Form,
  attitude: Setting['attitude'],
  already = 0,
): Prop => {
  const dry = DRY[form.sizes];
  const [R, H] = [dry * widest(form), dry * tallest(form)];
  const lying = attitude === 'on its side';
  const x_mm = lying ? whole(0.27 * H * sideOf(already)) : 0;
  // Under a piece that lies level, a place where it is narrower wants a higher prop.
  const here = dry * radiusAt(form, (H / 2 + x_mm) / dry);
  const height_mm = whole(LOWEST_mm + (lying ? R - here : 0));
  const foot = dry * form.line[0]!.radius_mm;
  const at = { x_mm, y_mm: 0, shrinks: false };
  switch (kind) {
    case 'saddle':
      return { kind, ...at, length_mm: 20, hollowRadius_mm: whole(here), height_mm };
    case 'hump':
      return { kind, ...at, width_mm: 40, height_mm };
    case 'ring': {
      const insideRadius_mm = Math.max(5, whole((lying ? 0.5 * here : foot) - 8));
      return { kind, ...at, insideRadius_mm, width_mm: 16, height_mm };
    }
    case 'post':
      return attitude === 'leaning'
        ? { kind, ...at, x_mm: whole(R + 40), width_mm: 30, height_mm: whole(0.8 * H) }
        : { kind, ...at, width_mm: 30, height_mm };
    case 'wall':
      return { kind, away_mm: whole(R + 5), towards_deg: 0, shrinks: false };
  }
};

/** What an attitude needs before anything is chosen: a leaning piece leans on something. */
export const standIn = (attitude: Setting['attitude'], form: Form): readonly Prop[] =>
  attitude === 'leaning' ? [firstProp('wall', form, attitude)] : [];
