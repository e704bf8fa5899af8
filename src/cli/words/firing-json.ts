import type { Firing } from '../../making/firing/firing.ts';

/** What a firing says, for programs: SI units, no film. (The shape itself leaves as glTF or STL.) */
export const firingJson = (firing: Firing): object => ({
  form: firing.input.form.name,
  clay: firing.input.clay.name,
  schedule: firing.input.schedule.name,
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
  greatestSag_m: firing.sag_m.reduce((most, sag) => Math.max(most, sag), 0),
  thinnestWall_m: firing.thinnestWall_m,
  contactArea_m2: firing.contactArea_m2,
  warnings: firing.warnings,
  provenance: firing.provenance,
});
