import type { Mesh } from '../../kernel/mesh/mesh.ts';
import { mmFromMetres } from '../../units.ts';

const HEADER_BYTES = 80;
const TRIANGLE_BYTES = 50;

type Point = readonly [number, number, number];

const cornerOf_mm = (positions: Float64Array, node: number): Point => [
  mmFromMetres(positions[3 * node]),
  mmFromMetres(positions[3 * node + 1]),
  mmFromMetres(positions[3 * node + 2]),
];

/** Binary STL. The format has no unit; everyone who prints reads it as millimetres, so millimetres are written. */
export const stlOf = ({ positions, triangles }: Mesh, name: string): Uint8Array => {
  const count = triangles.length / 3;
  const bytes = new Uint8Array(HEADER_BYTES + 4 + TRIANGLE_BYTES * count);
  // A header that begins with "solid" would be taken for the text variant by many readers.
  new TextEncoder().encodeInto(
    `Afterfire, mm: ${name}`.slice(0, HEADER_BYTES - 1),
    bytes.subarray(0, HEADER_BYTES),
  );
  const view = new DataView(bytes.buffer);
  view.setUint32(HEADER_BYTES, count, true);
  for (let i = 0; i < count; i++) {
    const [a, b, c] = [0, 1, 2].map((k) => cornerOf_mm(positions, triangles[3 * i + k])) as [
      Point,
      Point,
      Point,
    ];
    const e = [b[0] - a[0], b[1] - a[1], b[2] - a[2]] as const;
    const f = [c[0] - a[0], c[1] - a[1], c[2] - a[2]] as const;
    const n = [e[1] * f[2] - e[2] * f[1], e[2] * f[0] - e[0] * f[2], e[0] * f[1] - e[1] * f[0]];
    const length = Math.hypot(...n) || 1;
    const numbers = [...n.map((x) => x / length), ...a, ...b, ...c];
    const at = HEADER_BYTES + 4 + TRIANGLE_BYTES * i;
    numbers.forEach((x, k) => {
      view.setFloat32(at + 4 * k, x, true);
    });
  }
  return bytes;
};
