import type { WallMesh } from '../../../kernel/mesh/mesh.ts';
import type { FormMesh } from '../../form/mesh-form.ts';
import type { FiringInput, Warning } from '../firing.ts';
import type { Pose } from '../pose.ts';

/**
 * The way back: from the fired piece that is wanted to the green piece the fire turns into it.
 *
 * `form` is what is WANTED, after the fire: with `sizes: 'fired'` every millimetre as it is to come out, with
 * `sizes: 'thrown'` the drawn shape at the size it would shrink to. Either way nothing of it is sag.
 */
export interface AimInput extends FiringInput {
  /** Greatest difference allowed, m; left out: 0.1 mm upright and rim down, 0.3 mm on its side. */
  readonly tolerance_m?: number;
}

/** How far one pass (one firing of the green piece found so far) ended from what is wanted. */
export interface AimPass {
  readonly max_m: number;
  readonly rms_m: number;
}

export interface AimProgress {
  /** 0 to 1. */
  readonly fraction: number;
  /** `back from the wanted piece`, `firing it`, ... */
  readonly note: string;
  /** The passes done so far. */
  readonly passes: readonly AimPass[];
}

/** What came of it, in plain words; `kind` is for programs. */
export interface AimVerdict {
  readonly kind:
    | 'reached'
    /** Everywhere but where it lies, which the fire flattens whatever is made. */
    | 'reached-but-where-it-lies'
    /** The passes did not get there; `green` is the nearest found. */
    | 'not-reached'
    /** No green piece: on the way it falls or collapses. `green` is the nearest that was found, if any. */
    | 'falls';
  readonly text: string;
}

/**
 * The answer. All shapes have the nodes and triangles of `mesh`; positions 3 × nodes in metres, as the piece stands in the
 * kiln (shelf at z = 0; `place` leads back to the drawing, see `asDrawn`).
 */
export interface Aim {
  readonly input: AimInput;
  /** The wanted piece as drawn, upright, true fired size, with its tags. */
  readonly mesh: FormMesh;
  /** How the piece as drawn (`mesh`) came to lie in the kiln: where its axes point and by how much it is moved, at the wanted fired size. */
  readonly place: Pose;
  /** True fired size. */
  readonly wanted: WallMesh;
  /** What to set in the kiln: bone-dry size. */
  readonly green: WallMesh;
  /** Green by the fire: true fired size, laid on `wanted` as well as the setting leaves free. */
  readonly fired: WallMesh;
  /** Bone-dry lengths times this are as thrown (wet). */
  readonly thrownScale: number;
  /** Bone-dry lengths times this are free fired lengths. */
  readonly firedScale: number;
  /** How far `fired` lies outside (+) or inside (-) the wanted surface, along its outward normal or beyond an open edge (lip, opening), whichever is more, m; one a node. */
  readonly difference_m: Float64Array;
  /** Greatest and root-mean-square size of it, m, but for where it lies (`lies`). */
  readonly max_m: number;
  readonly rms_m: number;
  /** 1 where the fired piece lies on the shelf or so near that it is pressed flat; one a node. */
  readonly lies: Uint8Array;
  /** Greatest difference there, m: what the fire flattens whatever is made. */
  readonly flattened_m: number;
  readonly tolerance_m: number;
  readonly passes: readonly AimPass[];
  readonly reached: boolean;
  readonly verdict: AimVerdict;
  readonly warnings: readonly Warning[];
  /** Which inputs are guesses, published or measured, in sentences to show as they are. */
  readonly provenance: readonly string[];
}

/** Driven by the caller like a firing: `aim(input, engine?): AimRun` in aim.ts. */
export type AimRun = Generator<AimProgress, Aim, void>;
