/** How far a piece reaches: highest point, and radius of the sphere about the middle of that height. Metres. */
export const extentOf = (shapes: readonly Float32Array[]): { height_m: number; radius_m: number } => {
  let height_m = 0;
  for (const p of shapes) for (let i = 2; i < p.length; i += 3) height_m = Math.max(height_m, p[i]!);
  let far2 = 0;
  for (const p of shapes)
    for (let i = 0; i < p.length; i += 3)
      far2 = Math.max(far2, p[i]! ** 2 + p[i + 1]! ** 2 + (p[i + 2]! - height_m / 2) ** 2);
  return { height_m, radius_m: Math.sqrt(far2) || 0.1 };
};
