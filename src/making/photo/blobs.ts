/** A connected patch of pixels and its moments; middles of pixels lie at + 0.5. */
export interface Blob {
  readonly number: number;
  readonly light: boolean;
  readonly area: number;
  readonly x: number;
  readonly y: number;
  /** Second moments about the middle, per pixel. */
  readonly xx: number;
  readonly xy: number;
  readonly yy: number;
  readonly atEdge: boolean;
  /** The patch over its topmost pixel; for a hole, the patch it is a hole of. */
  readonly over: number;
  readonly box: readonly [left: number, top: number, right: number, bottom: number];
}

/** Numbers each pixel with the patch of its own kind (over the level or not) that it is joined to by its sides. */
const labelled = (grey: Float32Array, width: number, level: number): { label: Int32Array; count: number } => {
  const label = new Int32Array(grey.length);
  const parent: number[] = [];
  const root = (a: number): number => {
    while (parent[a] !== a) a = parent[a] = parent[parent[a]];
    return a;
  };
  for (let p = 0; p < grey.length; p++) {
    const light = grey[p] > level;
    const left = p % width > 0 && grey[p - 1] > level === light ? label[p - 1] : -1;
    const top = p >= width && grey[p - width] > level === light ? label[p - width] : -1;
    if (left < 0 && top < 0) {
      label[p] = parent.length;
      parent.push(parent.length);
    } else label[p] = left < 0 ? top : left;
    if (left >= 0 && top >= 0 && left !== top) {
      const [a, b] = [root(left), root(top)];
      parent[Math.max(a, b)] = Math.min(a, b);
    }
  }
  const number = new Int32Array(parent.length).fill(-1);
  let count = 0;
  for (let p = 0; p < label.length; p++) {
    const r = root(label[p]);
    if (number[r] < 0) number[r] = count++;
    label[p] = number[r];
  }
  return { label, count };
};

/** Every patch of at least so many pixels in a picture cut at a level of grey, dark and light ones. */
export const blobsOf = (grey: Float32Array, width: number, level: number, leastArea: number): Blob[] => {
  const { label, count } = labelled(grey, width, level);
  const height = grey.length / width;
  const sums = new Float64Array(6 * count);
  const box = new Int32Array(4 * count);
  const first = new Int32Array(count).fill(-1);
  for (let p = 0; p < label.length; p++) {
    const k = label[p];
    const [x, y] = [p % width, Math.floor(p / width)];
    if (first[k] < 0) {
      first[k] = p;
      box.set([x, y, x, y], 4 * k);
    }
    if (x < box[4 * k]) box[4 * k] = x;
    if (x > box[4 * k + 2]) box[4 * k + 2] = x;
    box[4 * k + 3] = y;
    const s = 6 * k;
    sums[s]++;
    sums[s + 1] += x;
    sums[s + 2] += y;
    sums[s + 3] += x * x;
    sums[s + 4] += x * y;
    sums[s + 5] += y * y;
  }
  const large = Array.from({ length: count }, (_, k) => k).filter((k) => sums[6 * k] >= leastArea);
  return large.map((k) => {
    const [n, sx, sy, sxx, sxy, syy] = sums.subarray(6 * k, 6 * k + 6);
    const [x, y] = [sx / n, sy / n];
    const [left, top, right, bottom] = box.subarray(4 * k, 4 * k + 4);
    return {
      number: k,
      light: grey[first[k]] > level,
      area: n,
      x: x + 0.5,
      y: y + 0.5,
      xx: sxx / n - x * x,
      xy: sxy / n - x * y,
      yy: syy / n - y * y,
      atEdge: left === 0 || top === 0 || right === width - 1 || bottom === height - 1,
      over: first[k] < width ? -1 : label[first[k] - width],
      box: [left, top, right, bottom] as const,
    };
  });
};
