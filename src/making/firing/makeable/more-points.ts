import type { Form } from '../../form/form.ts';
import { outerLine } from '../../form/line.ts';

/** More than so many points are not followed by hand. */
const MOST_POINTS = 16;

/** The same line with a point more in the middle of each piece; undefined where it has enough. */
export const morePoints = (form: Form): Form | undefined => {
  const { line } = form;
  if (2 * line.length - 1 > MOST_POINTS) return undefined;
  const o = outerLine(form);
  const per = (o.radius.length - 1) / (line.length - 1);
  return {
    ...form,
    line: line.flatMap((p, i) => {
      if (i + 1 === line.length) return [p];
      const at = Math.round((i + 0.5) * per);
      return [p, { radius_mm: o.radius[at], height_mm: o.height[at] }];
    }),
  };
};

/** Foot, middle and lip at least. */
export const moreWall = (form: Form): Form | undefined => {
  if (form.wall.length > 2) return undefined;
  const [first] = form.wall;
  const last = form.wall[form.wall.length - 1];
  const middle = 0.5 * (first.thickness_mm + last.thickness_mm);
  return {
    ...form,
    wall: [
      { along: 0, thickness_mm: first.thickness_mm },
      { along: 0.5, thickness_mm: middle },
      { along: 1, thickness_mm: last.thickness_mm },
    ],
  };
};
