import type { Give, Handling } from './handling.ts';

/** A squeeze a hand hardly notices: the weight of a kilogram. */
const SQUEEZE_N = 10;

export interface HandlingTold {
  /** Newtons a millimetre, the softest direction of each. */
  readonly pinch_N_mm: number;
  readonly push_N_mm: number;
  /** How far a pinch or a push of 10 N moves it, mm, with the range of the modulus. */
  readonly pinched_mm: { readonly value: number; readonly low: number; readonly high: number };
  readonly pushed_mm: { readonly value: number; readonly low: number; readonly high: number };
  /** Sentences to show as they are; the last ones say where the numbers come from and what they leave out. */
  readonly text: readonly string[];
}

export const softest = (gives: readonly Give[]): Give =>
  gives.reduce((a, b) => (b.stiffness_N_m < a.stiffness_N_m ? b : a));
export const stiffest = (gives: readonly Give[]): Give =>
  gives.reduce((a, b) => (b.stiffness_N_m > a.stiffness_N_m ? b : a));

const figures = (x: number): string => String(Number(x.toPrecision(2)));
const degrees = (rad: number): string => `${Math.round((((rad * 180) / Math.PI) % 360) + 360) % 360}°`;
/** Directions nearer to one another than this are not told apart. */
const SAME = 1.1;

const LEFT_OUT =
  'It says how the piece springs, not what it bears before it cracks; small movements only, and no flaws or glaze.';

/** What a potter would want to know of the stiffness of a piece in the hand. */
export const tellHandling = (h: Handling): HandlingTold => {
  const { clay } = h;
  const [pinch, push] = [softest(h.pinch), softest(h.push)];
  const moved = (g: Give) => {
    const value = (1000 * SQUEEZE_N) / g.stiffness_N_m;
    return {
      value,
      low: (value * clay.modulus_Pa) / clay.high_Pa,
      high: (value * clay.modulus_Pa) / clay.low_Pa,
    };
  };
  const [pinched, pushed] = [moved(pinch), moved(push)];
  const range = (m: typeof pinched): string =>
    `${figures(m.value)} mm (${figures(m.low)} to ${figures(m.high)})`;
  const most = stiffest(h.pinch);
  const ways =
    most.stiffness_N_m > SAME * pinch.stiffness_N_m
      ? ` At its softest, across ${degrees(pinch.angle_rad)}; across ${degrees(most.angle_rad)} it is ${figures(most.stiffness_N_m / pinch.stiffness_N_m)} times as stiff.`
      : '';
  const [pinch_N_mm, push_N_mm] = [pinch.stiffness_N_m / 1000, push.stiffness_N_m / 1000];
  const state = clay.state === 'fired' ? 'Fired' : 'Bone dry';
  return {
    pinch_N_mm,
    push_N_mm,
    pinched_mm: pinched,
    pushed_mm: pushed,
    text: [
      `${state}, two fingers squeezing the lip meet ${figures(pinch_N_mm)} N per mm: a squeeze of ${SQUEEZE_N} N, the weight of a kilogram, closes it by ${range(pinched)}.${ways}`,
      `A finger pushing down on the lip meets ${figures(push_N_mm)} N per mm: ${SQUEEZE_N} N lower it by ${range(pushed)}.`,
      clay.from,
      LEFT_OUT,
    ],
  };
};

/** The stiffness of a piece against that of its plain twin; above 1 the corrugation stiffens. */
export interface HandlingCompared {
  readonly pinchRatio: number;
  readonly pushRatio: number;
  readonly text: string;
}

const told = (ratio: number): string => {
  if (Math.abs(ratio - 1) < 0.03) return 'as stiff as its plain twin';
  return ratio > 1
    ? `${figures(ratio)} times as stiff as its plain twin`
    : `only ${figures(ratio)} times as stiff as its plain twin`;
};

/**
 * Corrugation stiffens a wall along its ridges and softens it across them, so both ways are told.
 * @param without what the plain twin lacks, e.g. `flutes`
 */
export const compareHandling = (piece: Handling, plain: Handling, without: string): HandlingCompared => {
  const pinchRatio = softest(piece.pinch).stiffness_N_m / softest(plain.pinch).stiffness_N_m;
  const pushRatio = softest(piece.push).stiffness_N_m / softest(plain.push).stiffness_N_m;
  return {
    pinchRatio,
    pushRatio,
    text: `With its ${without}, squeezed at the lip it is ${told(pinchRatio)}; pushed down on the lip it is ${told(pushRatio)}.`,
  };
};
