import { neighbours } from './flip.ts';

/** How well the narrowest struts are drawn. */
export interface Struts {
  /** Fewest edges in a chain from one opening's rim to another's, the lip or the floor: triangles across. */
  readonly across: number;
  /** The way along the chain there, m. */
  readonly width_m: number;
}

/**
 * Counts triangles across the struts of a mesh: from every rim the mesh is walked edge by edge, and where two
 * walks meet their steps are one chain from rim to rim.
 * @param rims node lists: the openings', the lip's, a tube's lower edge; two or more
 */
export const countAcross = (
  positions: Float64Array,
  triangles: Uint32Array,
  rims: readonly ArrayLike<number>[],
): Struts | undefined => {
  const nodes = positions.length / 3;
  const owner = new Int32Array(nodes).fill(-1);
  const steps = new Int32Array(nodes);
  const way = new Float64Array(nodes);
  const queue: number[] = [];
  rims.forEach((rim, r) => {
    for (let k = 0; k < rim.length; k++) {
      owner[rim[k]] = r;
      queue.push(rim[k]);
    }
  });
  const over = neighbours(triangles, nodes);
  const edges: number[][] = Array.from({ length: nodes }, () => []);
  for (let e = 0; e < triangles.length; e++) {
    const [a, b] = [triangles[e], triangles[e % 3 === 2 ? e - 2 : e + 1]];
    if (over[e] >= 0 && over[e] < e) continue;
    edges[a].push(b);
    edges[b].push(a);
  }
  const length = (a: number, b: number): number =>
    Math.hypot(...[0, 1, 2].map((k) => positions[3 * a + k] - positions[3 * b + k]));
  let best: Struts | undefined;
  for (let k = 0; k < queue.length; k++) {
    const a = queue[k];
    for (const b of edges[a])
      if (owner[b] < 0) {
        owner[b] = owner[a];
        steps[b] = steps[a] + 1;
        way[b] = way[a] + length(a, b);
        queue.push(b);
      } else if (owner[b] !== owner[a]) {
        const across = steps[a] + steps[b] + 1;
        const width_m = way[a] + way[b] + length(a, b);
        if (!best || across < best.across || (across === best.across && width_m < best.width_m))
          best = { across, width_m };
      }
  }
  return best;
};
