/**
 * The colour of heat, roughly as the eye sees it in a dark kiln: nothing below about 525 °C (the Draper point),
 * dull red at 650, cherry at 800, orange at 1000, yellow at 1200, nearly white past 1300. Common practice, no source.
 */
const STEPS: readonly (readonly [t_C: number, red: number, green: number, blue: number])[] = [
  [525, 0, 0, 0],
  [650, 0.2, 0.012, 0],
  [800, 0.46, 0.05, 0.01],
  [1000, 0.72, 0.2, 0.03],
  [1200, 0.86, 0.43, 0.12],
  [1350, 0.92, 0.62, 0.32],
];

/** Light given off at a temperature, as linear red, green, blue. */
export const glow = (temperature_C: number): [number, number, number] => {
  const at = STEPS.findIndex(([t]) => t > temperature_C);
  if (at === 0) return [0, 0, 0];
  const b = STEPS[at < 0 ? STEPS.length - 1 : at]!;
  const a = at < 0 ? b : STEPS[at - 1]!;
  const t = b === a ? 0 : (temperature_C - a[0]) / (b[0] - a[0]);
  return [1, 2, 3].map((k) => a[k]! + t * (b[k]! - a[k]!)) as [number, number, number];
};
