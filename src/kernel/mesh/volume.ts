import type { Mesh } from './mesh.ts';

/** Volume (m³) inside a closed mesh: signed tetrahedra to the origin, the divergence theorem for x/3. */
export const enclosedVolume = ({ positions: p, triangles: t }: Mesh): number => {
  let six = 0;
  for (let i = 0; i < t.length; i += 3) {
    const [a, b, c] = [3 * t[i], 3 * t[i + 1], 3 * t[i + 2]];
    six +=
      p[a] * (p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1]) -
      p[a + 1] * (p[b] * p[c + 2] - p[b + 2] * p[c]) +
      p[a + 2] * (p[b] * p[c + 1] - p[b + 1] * p[c]);
  }
  return six / 6;
};

/**
 * Volume (m³) of liquid standing to a level in a basin: ∫ (z - level) n_z dA over the wetted face, which is the
 * divergence theorem for (0, 0, z - level); the liquid's own surface adds nothing. Exact for flat triangles.
 * @param face positions of the INNER face (3 × nodes), triangles facing out of the liquid
 * @param seeds nodes certainly under the liquid if anything is; a part below the level but not reached from them
 *   (a rim hanging down outside) holds none
 */
export const liquidVolume = (
  face: Float64Array,
  triangles: Uint32Array,
  level_m: number,
  seeds: ArrayLike<number>,
): number => {
  const wet = wetNodes(face, triangles, level_m, seeds);
  let volume = 0;
  for (let i = 0; i < triangles.length; i += 3) {
    const corners = [triangles[i], triangles[i + 1], triangles[i + 2]];
    if (!corners.some((n) => wet[n])) continue;
    volume += underLevel(face, corners, level_m);
  }
  return volume;
};

const wetNodes = (
  face: Float64Array,
  triangles: Uint32Array,
  level: number,
  seeds: ArrayLike<number>,
): Uint8Array => {
  const wet = new Uint8Array(face.length / 3);
  const below = (n: number): boolean => face[3 * n + 2] < level;
  for (let k = 0; k < seeds.length; k++) if (below(seeds[k])) wet[seeds[k]] = 1;
  // Rows of a mesh are mostly in order, so a few sweeps there and back reach everything.
  const count = triangles.length / 3;
  for (let spreading = true, sweep = 0; spreading; sweep++) {
    spreading = false;
    for (let k = 0; k < count; k++) {
      const i = 3 * (sweep % 2 === 0 ? k : count - 1 - k);
      const [a, b, c] = [triangles[i], triangles[i + 1], triangles[i + 2]];
      if (!(wet[a] || wet[b] || wet[c])) continue;
      for (const n of [a, b, c])
        if (!wet[n] && below(n)) {
          wet[n] = 1;
          spreading = true;
        }
    }
  }
  return wet;
};

/** ∫ (z - level) n_z dA over the part of one triangle below the level. */
const underLevel = (p: Float64Array, corners: readonly number[], level: number): number => {
  const part: [number, number, number][] = [];
  for (let k = 0; k < 3; k++) {
    const [a, b] = [3 * corners[k], 3 * corners[(k + 1) % 3]];
    const [da, db] = [p[a + 2] - level, p[b + 2] - level];
    if (da < 0) part.push([p[a], p[a + 1], da]);
    if (da < 0 !== db < 0) {
      const s = da / (da - db);
      part.push([p[a] + s * (p[b] - p[a]), p[a + 1] + s * (p[b + 1] - p[a + 1]), 0]);
    }
  }
  let sum = 0;
  for (let k = 1; k + 1 < part.length; k++) {
    const [o, u, v] = [part[0], part[k], part[k + 1]];
    const flat = 0.5 * ((u[0] - o[0]) * (v[1] - o[1]) - (u[1] - o[1]) * (v[0] - o[0]));
    sum += (flat * (o[2] + u[2] + v[2])) / 3;
  }
  return sum;
};
