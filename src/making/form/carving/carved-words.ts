import type { CarvedTags } from '../form-mesh.ts';

/** What a person should know about how the mesh draws the carving, in sentences; none when all is as it should be. */
export const carvedWords = (carved: CarvedTags | undefined): string[] => {
  if (!carved) return [];
  const out = carved.leftOut.map(
    (i) =>
      `Carving ${i + 1} is too fine for this many triangles and is left out here: the wall is whole there.`,
  );
  if (carved.coarseStruts) {
    const { across, width_m } = carved.coarseStruts;
    const many = across === 1 ? 'one triangle' : `${across} triangles`;
    out.push(
      `Struts about ${(1000 * width_m).toFixed(0)} mm wide are drawn by ${many} across, too few to trust how far ` +
        'they bend (three are wanted): take more triangles.',
    );
  }
  if (carved.made)
    out.push(
      `The openings need ${carved.made.triangles} triangles where ${carved.made.wished} were wished for; it takes longer.`,
    );
  return out;
};
