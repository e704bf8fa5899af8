import type { WallMesh } from '../../../kernel/mesh/mesh.ts';
import type { Form } from '../../form/form.ts';
import type { FormMesh } from '../../form/mesh-form.ts';
import type { Aim, AimInput } from '../aim/aim-contract.ts';
import type { Firing, Frame } from '../firing.ts';
import type { Setting } from '../setting.ts';
import type { Limit } from './to-hands.ts';

/** From the free shape that the fire would turn into the wanted piece to a form hands can make. */
export interface MakeableInput {
  readonly aim: Aim;
  /** Rounds of correction by what the fire did to the made form; left out: one. */
  readonly corrections?: number;
  /** Difference that is still well, m; left out: 1 mm, or one in a hundred of the piece where that is more (a guess). */
  readonly limit_m?: number;
}

/** A number of the wanted form (at the size of the wet piece) and what it has to be instead. */
export interface Change {
  readonly field: string;
  readonly unit: Limit['unit'];
  /** Left out for what the wanted form does not have. */
  readonly wanted?: number;
  readonly make: number;
}

/** How a made form came out, m. */
export interface Round {
  readonly max_m: number;
  readonly rms_m: number;
}

/** What remains, as a sentence to show; `kind` is for programs. */
export interface Remains {
  readonly kind:
    | 'all'
    | 'place'
    | 'lip'
    | 'lean'
    | 'bend'
    | 'rounding'
    | 'limit'
    | 'held-back'
    | 'wads'
    | 'falls';
  readonly text: string;
}

export interface Makeable {
  readonly aim: Aim;
  /** What to make: sizes of the wet piece, lines by 0.5 mm, walls by 0.1 mm, the rest by 1 % or 1°. */
  readonly form: Form;
  readonly changes: readonly Change[];
  /** What to do beyond the wanted form, as sentences. */
  readonly added: readonly string[];
  /** The made form's mesh as drawn, bone dry. */
  readonly mesh: FormMesh;
  /** That form through the same fire on a finer mesh, as it lies in the kiln, true size; left out where it does not come through. */
  readonly fired?: WallMesh;
  /** Its firing, film and all; left out on its side, where wads hold it. */
  readonly firing?: Firing;
  /** How far the fired piece lies outside (+) or inside (-) the wanted surface, m: a number a node of `mesh`. */
  readonly difference_m: Float64Array;
  /** The same on the nodes of `aim.mesh`, for a map beside the aim's own. */
  readonly differenceOnAim_m: Float64Array;
  /** 1 where the fired piece lies pressed to the shelf on its side and is not compared; a node of `mesh`. */
  readonly lies: Uint8Array;
  /** On its side: how far the made piece would roll if nothing held it, rad; 0 otherwise. */
  readonly rolls_rad: number;
  readonly max_m: number;
  readonly rms_m: number;
  readonly limit_m: number;
  readonly within: boolean;
  /** Of the form before the fire against the free shape, m at the size of the wet piece: with free numbers, and rounded. */
  readonly fit: { readonly free: Round; readonly rounded: Round };
  /** What throwing cannot make of the free shape, m: a lean of its axis, a bend of it (both at the wet size). */
  readonly lean_m: number;
  readonly bend_m: number;
  readonly limits: readonly Limit[];
  /** Every made form that was fired, the last is not always the best. */
  readonly rounds: readonly Round[];
  readonly remains: readonly Remains[];
}

export interface MakeableProgress {
  /** 0 to 1. */
  readonly fraction: number;
  readonly note: string;
  readonly frame?: Frame | undefined;
}

export type MakeableRun = Generator<MakeableProgress, Makeable, void>;

export interface BestSettingInput extends AimInput {
  /** Those allowed; left out: upright, rim down, on its side turned by 0, 45 and 90 degrees. `setting` itself is not tried. */
  readonly settings?: readonly Setting[];
}

/** One setting tried. */
export interface SettingTried {
  readonly setting: Setting;
  /** Such as `rim down` or `on its side, turned by 45°`. */
  readonly name: string;
  /** None where it cannot stand so or does not come through; `text` says why. */
  readonly makeable?: Makeable;
  /** Greatest difference that remains, m; NaN where there is none. */
  readonly max_m: number;
  readonly rms_m: number;
  /** Greatest difference where the clay is as soft, or as stiff, as four cases in five allow. */
  readonly soft_m: number;
  readonly stiff_m: number;
  /** The largest of the three: what the ranking goes by; infinite where it does not come through. */
  readonly likely_m: number;
  readonly text: string;
}

export interface BestSetting {
  /** Best first. */
  readonly ranked: readonly SettingTried[];
  readonly best?: SettingTried;
  /** Triangles of the coarse meshes it was judged on. */
  readonly triangles: number;
  readonly text: string;
}

export type BestSettingRun = Generator<MakeableProgress, BestSetting, void>;

export interface WallForInput extends AimInput {
  /** Difference that is still well, softness of the clay included, m; left out as for `MakeableInput`. */
  readonly limit_m?: number;
}

/** The wanted form with every wall this much thicker or thinner. */
export interface WallTried {
  readonly factor: number;
  readonly thinnest_mm: number;
  readonly likely_m: number;
  readonly max_m: number;
  /** Of the fired made piece. */
  readonly weight_kg: number;
  readonly text?: string;
}

export interface WallFor {
  readonly limit_m: number;
  readonly asWanted: WallTried;
  /** In the order of the factor. */
  readonly tried: readonly WallTried[];
  /** The change that is least and brings it within the limit; the wall as wanted where that does already. */
  readonly found?: WallTried;
  /** The wanted form with that wall. */
  readonly form?: Form;
  readonly text: string;
}

export type WallForRun = Generator<MakeableProgress, WallFor, void>;
