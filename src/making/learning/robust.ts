/**
 * Student's t (Student, Biometrika 6 (1908) 1-25) in place of the normal: one slip of the rule costs little, where under
 * the normal it would drag everything along. Four degrees of freedom are the usual choice of robust fitting (K. L. Lange,
 * R. J. A. Little, J. M. G. Taylor, J. Am. Stat. Assoc. 84 (1989) 881-896).
 */
export const FREEDOM = 4;

/** ln of the density of t at z, with a constant that makes it 0 at 0: only shares of likelihoods matter. Endless freedom is the normal. */
export const lnStudent = (z: number, freedom = FREEDOM): number =>
  freedom === Number.POSITIVE_INFINITY ? -0.5 * z * z : -0.5 * (freedom + 1) * Math.log1p((z * z) / freedom);

/** Nine in ten of t with four degrees of freedom lie below this (every printed table of t). */
const NINE_IN_TEN = 1.533206;
/** The same of the normal. */
const NORMAL_NINE_IN_TEN = 1.281552;

/**
 * ln density of an error z stated standard deviations off, under t of FREEDOM whose middle four fifths are as wide as the
 * normal's: an error is stated as what four in five keep within, and that it stays. (It also tells as much of the middle
 * as the normal does: (4 + 1)/(4 + 3) × (1.533/1.282)² = 1.02.)
 */
export const lnOff = (z: number, freedom: number): number =>
  freedom === Number.POSITIVE_INFINITY
    ? lnStudent(z, freedom)
    : lnStudent((z * NINE_IN_TEN) / NORMAL_NINE_IN_TEN, freedom);

/** The weight a reading this far off keeps against one that is right: (freedom + 1)/(freedom + z²), at most 1. */
export const weightOf = (z: number, freedom = FREEDOM): number =>
  Math.min(1, (freedom + 1) / (freedom + z * z));
