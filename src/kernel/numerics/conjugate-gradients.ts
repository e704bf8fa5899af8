/**
 * Preconditioned conjugate gradients (M. R. Hestenes, E. Stiefel, J. Res. Natl. Bur. Stand. 49 (1952) 409-436).
 * `apply` writes A·p into its second argument, `precondition` M⁻¹·r. x holds the first guess and becomes
 * the solution; r must hold b - A·x. Stops when the preconditioned residual has fallen below
 * `tolerance × reference`, where reference is √(b·M⁻¹·b), the energy of the whole load.
 * @returns iterations used, or -1 where `most` were not enough
 */
export const conjugateGradients = (
  apply: (p: Float64Array, ap: Float64Array) => void,
  precondition: (r: Float64Array, z: Float64Array) => void,
  x: Float64Array,
  r: Float64Array,
  reference: number,
  tolerance: number,
  most: number,
): number => {
  const n = x.length;
  const z = new Float64Array(n);
  const p = new Float64Array(n);
  const ap = new Float64Array(n);
  precondition(r, z);
  p.set(z);
  let rz = dot(r, z);
  const enough = (tolerance * reference) ** 2;
  for (let k = 0; k < most; k++) {
    if (!(rz > enough)) return Number.isNaN(rz) ? -1 : k;
    apply(p, ap);
    const alpha = rz / dot(p, ap);
    for (let i = 0; i < n; i++) {
      x[i] += alpha * p[i];
      r[i] -= alpha * ap[i];
    }
    precondition(r, z);
    const next = dot(r, z);
    const beta = next / rz;
    rz = next;
    for (let i = 0; i < n; i++) p[i] = z[i] + beta * p[i];
  }
  return rz <= enough ? most : -1;
};

export const dot = (a: Float64Array, b: Float64Array): number => {
  let s = 0;
  for (let i = 0; i < a.length; i++) s += a[i] * b[i];
  return s;
};
