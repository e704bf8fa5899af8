import type { CutLine } from '../../kernel/mesh/cut.ts';
import { sectionOf } from '../../kernel/mesh/cut.ts';
import type { Firing } from '../../making/firing/firing.ts';
import { handlingOfFiring } from '../../making/handling/handled-firing.ts';
import { tellHandling } from '../../making/handling/tell-handling.ts';
import { firedWall } from '../drawing/pictures.ts';
import type { Shown } from '../shown.ts';
import { restsOf } from './setting.ts';

/** Cut by the plane y = 0: points of the mid line, and from each the way to the outer face. */
const lines = (section: readonly CutLine[]): object[] =>
  section.map(({ points, half, closed }) => {
    const triples = (flat: Float64Array): number[][] =>
      Array.from({ length: flat.length / 3 }, (_, i) => Array.from(flat.subarray(3 * i, 3 * i + 3)));
    return { closed, points_m: triples(points), half_m: triples(half) };
  });

const bandsJson = (firing: Firing): object | undefined => {
  const { bands } = firing;
  if (!bands) return undefined;
  const fired = sectionOf(firedWall(firing), [0, 0, 0], [0, 1, 0]);
  return {
    why: bands.why,
    softFalls: bands.softFalls,
    fired: lines(fired),
    stiff: lines(bands.stiff.section),
    soft: lines(bands.soft.section),
  };
};

const inHandJson = (firing: Firing): object => {
  const { dry, fired } = handlingOfFiring(firing);
  return { dry: tellHandling(dry), fired: tellHandling(fired) };
};

/** What a firing says, for programs: SI units, no film. (The shape itself leaves as glTF or STL.) */
export const firingJson = ({ firing, called }: Shown, inHand = false): object => ({
  form: firing.input.form.name,
  clay: firing.input.clay.name,
  schedule: firing.input.schedule.name,
  called,
  setting: firing.input.setting,
  care: firing.input.care,
  triangles: firing.dry.triangles.length / 3,
  steps: firing.steps,
  verdict: firing.verdict,
  heatWork: firing.heatWork.text,
  measures: { wet: firing.wetMeasures, dry: firing.dryMeasures, fired: firing.firedMeasures },
  estimates: firing.estimates,
  margin: firing.margin,
  trials: firing.trials,
  bands: bandsJson(firing),
  greatestSag_m: firing.sag_m.reduce((most, sag) => Math.max(most, sag), 0),
  thinnestWall_m: firing.thinnestWall_m,
  contactArea_m2: firing.contactArea_m2,
  rests: restsOf(firing),
  inHand: inHand ? inHandJson(firing) : undefined,
  warnings: firing.warnings,
  provenance: firing.provenance,
});
