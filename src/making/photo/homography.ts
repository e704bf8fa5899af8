import { Matrix, SingularValueDecomposition } from 'ml-matrix';

export type Point = readonly [number, number];

/** Nine numbers, row by row: takes (x, y, 1) to a multiple of (u, v, 1). */
export type Homography = readonly number[];

export const through = (h: Homography, x: number, y: number): [number, number] => {
  const w = h[6] * x + h[7] * y + h[8];
  return [(h[0] * x + h[1] * y + h[2]) / w, (h[3] * x + h[4] * y + h[5]) / w];
};

/** (u_x, u_y, v_x, v_y): how the picture of a small square about (x, y) is stretched. */
export const stretchAt = (h: Homography, x: number, y: number): [number, number, number, number] => {
  const w = h[6] * x + h[7] * y + h[8];
  const [u, v] = through(h, x, y);
  return [(h[0] - u * h[6]) / w, (h[1] - u * h[7]) / w, (h[3] - v * h[6]) / w, (h[4] - v * h[7]) / w];
};

/** Side of a square of equal area that a unit of the plane is seen as, at a place of the plane. */
export const scaleAt = (h: Homography, x: number, y: number): number => {
  const [a, b, c, d] = stretchAt(h, x, y);
  return Math.sqrt(Math.abs(a * d - b * c));
};

/** Short over long half-axis of the ellipse that a small circle about (x, y) is seen as: 1 looked at squarely. */
export const squashAt = (h: Homography, x: number, y: number): number => {
  const [a, b, c, d] = stretchAt(h, x, y);
  // Singular values s ≥ t of a 2 × 2 matrix: s² + t² is its square sum, s t its determinant.
  const [sum, area] = [a * a + b * b + c * c + d * d, Math.abs(a * d - b * c)];
  const long = Math.sqrt((sum + Math.sqrt(Math.max(0, sum * sum - 4 * area * area))) / 2);
  return area / (long * long);
};

const times = (a: Homography, b: Homography): number[] =>
  [0, 1, 2].flatMap((i) =>
    [0, 1, 2].map((j) => a[3 * i] * b[j] + a[3 * i + 1] * b[3 + j] + a[3 * i + 2] * b[6 + j]),
  );

export const inverse = (h: Homography): Homography => {
  const [a, b, c, d, e, f, g, i, j] = h;
  const m = [
    e * j - f * i,
    c * i - b * j,
    b * f - c * e,
    f * g - d * j,
    a * j - c * g,
    c * d - a * f,
    d * i - e * g,
    b * g - a * i,
    a * e - b * d,
  ];
  const det = a * m[0] + b * m[3] + c * m[6];
  return m.map((x) => x / det);
};

/** Moves points to mean 0 and mean distance √2, without which the equations below are badly scaled. */
const settled = (points: readonly Point[]): Homography => {
  const n = points.length;
  const [mx, my] = [0, 1].map((k) => points.reduce((s, p) => s + p[k], 0) / n);
  const s = (Math.SQRT2 * n) / points.reduce((sum, [x, y]) => sum + Math.hypot(x - mx, y - my), 0);
  return [s, 0, -s * mx, 0, s, -s * my, 0, 0, 1];
};

/**
 * The homography that takes four or more points to others, in least algebraic squares: direct linear transformation
 * with settled points (R. Hartley and A. Zisserman, Multiple View Geometry, algorithm 4.2; from memory).
 */
export const homographyOf = (from: readonly Point[], to: readonly Point[]): Homography => {
  const [a, b] = [settled(from), settled(to)];
  const rows: number[][] = from.flatMap(([px, py], i) => {
    const [x, y] = through(a, px, py);
    const [u, v] = through(b, to[i][0], to[i][1]);
    return [
      [-x, -y, -1, 0, 0, 0, u * x, u * y, u],
      [0, 0, 0, -x, -y, -1, v * x, v * y, v],
    ];
  });
  // Four points give eight rows; a row of zeros makes the matrix square and adds nothing.
  while (rows.length < 9) rows.push(new Array(9).fill(0));
  const { rightSingularVectors } = new SingularValueDecomposition(new Matrix(rows));
  const h = times(inverse(b), times(rightSingularVectors.getColumn(8), a));
  return h.map((x) => x / h[8]);
};
