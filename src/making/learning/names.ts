/** Measures by name, to show as they are. */
const NAMES: Readonly<Record<string, string>> = {
  height: 'height',
  widest: 'greatest width',
  'lip greatest': 'lip, greatest width',
  'lip least': 'lip, least width',
  'lip mean': 'lip, mean of its two widths',
  'lip oval': 'lip, greatest less least width',
  'drop greatest': 'greatest lip drop',
  'drop mean': 'mean lip drop',
  'outline top': 'height of the outline',
};

/** e.g. `drop at 90` → `lip drop at 90°`, `outline at 120` → `outline, width at 120 mm`. */
export const named = (key: string): string => {
  const [, what, where] = /^(drop|outline) at (.+)$/.exec(key) ?? [];
  if (what === 'drop') return `lip drop at ${where}°`;
  if (what === 'outline') return `outline, width at ${where} mm`;
  return NAMES[key] ?? key;
};
