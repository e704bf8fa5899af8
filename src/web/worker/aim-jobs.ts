import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import type { Aim, AimInput } from '../../making/firing/aim/aim-contract.ts';
import type {
  BestSetting,
  Makeable,
  SettingTried,
  WallFor,
} from '../../making/firing/makeable/makeable-contract.ts';

/** What the page asks of the worker of the way back: each question to a worker of its own. */
export type AimAsk =
  | { readonly kind: 'aim'; readonly input: AimInput }
  | { readonly kind: 'make'; readonly aim: Aim }
  | { readonly kind: 'settings'; readonly input: AimInput }
  | { readonly kind: 'wall'; readonly input: AimInput };

/** What hands can make of it, without the film of its firing; the fired wall led back to the drawing. */
export interface Made extends Omit<Makeable, 'aim' | 'firing' | 'fired'> {
  readonly fired?: WallMesh;
}

/** A setting tried, without its meshes. */
export interface Tried extends Omit<SettingTried, 'makeable'> {
  /** What remains, where it is. */
  readonly place?: string;
}

export interface Ranked extends Omit<BestSetting, 'ranked' | 'best'> {
  readonly ranked: readonly Tried[];
}

export interface AimAnswers {
  readonly aim: Aim;
  readonly make: Made;
  readonly settings: Ranked;
  readonly wall: WallFor;
}
