import { z } from 'zod';
import { normalQuantile } from '../../../kernel/numerics/normal.ts';
import { type Mean, meanOf, oddAmong, type Told } from './mean-of.ts';

/**
 * Water absorption, open pores and bulk density from three weights of a fired piece: dry D, soaked M (boiled, then left
 * in the water, wiped) and hanging in water S. Arithmetic as in ASTM C373 and general immersion weighing: volume
 * V = (M - S)/water, absorption (M - D)/D, apparent porosity (M - D)/(M - S), bulk density D/V, density of the solid with
 * its closed pores D/(D - S) × water.
 */

export const AbsorptionPiece = z.strictObject({
  name: z.string().min(1).max(40).describe('What is scratched on the piece'),
  firing: z.string().min(1).optional().describe('Name of the firing it was in, as listed in this file'),
  dry_g: z.number().positive().max(5000).describe('Dried at 150 °C until it loses no more'),
  soaked_g: z
    .number()
    .positive()
    .max(5000)
    .describe('Boiled 5 h, left in the water 24 h, wiped with a damp cloth'),
  hanging_g: z.number().positive().max(5000).describe('Hanging in water on a thread, all of it under'),
  plusMinus_g: z
    .number()
    .positive()
    .max(50)
    .default(0.05)
    .describe('Four weighings in five are no further off'),
  water_kg_m3: z.number().min(950).max(1001).default(998.2).describe('Density of the water: 998.2 at 20 °C'),
  note: z.string().optional(),
});
export type AbsorptionPiece = z.infer<typeof AbsorptionPiece>;

export interface AbsorptionFinding {
  readonly absorption_percent: Mean;
  readonly openPorosity_percent: Mean;
  readonly bulkDensity_kg_m3: Mean;
  readonly solidDensity_kg_m3: Mean;
  /** Pieces left out because their weights cannot be, and why. */
  readonly faults: readonly string[];
  readonly contradictions: readonly string[];
  readonly notes: readonly string[];
}

const DEVIATIONS_80 = normalQuantile(0.9);
/** Fired porcelain with its closed pores; outside it the weights are not those of one (from memory, generous). */
const SOLID_kg_m3 = { least: 2000, most: 3200 } as const;
const LIGHT_g = 50;
/** Below this a body counts as vitrified: ISO 10545-3 sets 0.5 % for porcelain tile. */
const VITRIFIED_percent = 0.5;

const faultOf = (p: AbsorptionPiece): string | undefined => {
  const slack = 2 * p.plusMinus_g;
  if (p.hanging_g >= p.dry_g)
    return `Piece ${p.name}: hanging in water it weighs ${p.hanging_g} g, dry ${p.dry_g} g. Water always bears part of it: are the two swapped?`;
  if (p.soaked_g < p.dry_g - slack)
    return `Piece ${p.name}: soaked it weighs ${p.soaked_g} g, less than dry, ${p.dry_g} g. Either it lost a chip, or it was not dry.`;
  const solid = (p.dry_g / (p.dry_g - p.hanging_g)) * p.water_kg_m3;
  if (solid < SOLID_kg_m3.least || solid > SOLID_kg_m3.most)
    return `Piece ${p.name}: its solid would weigh ${Math.round(solid)} kg/m³, which no fired clay does (${SOLID_kg_m3.least} to ${SOLID_kg_m3.most}). Did it touch the beaker, or was air left on it?`;
  return undefined;
};

interface Weighed {
  readonly absorption: Told;
  readonly open: Told;
  readonly bulk: Told;
  readonly solid: Told;
}

/** Each figure with its standard deviation: by differences, the three weights erring independently. */
const weighed = (p: AbsorptionPiece): Weighed => {
  const figures = (D: number, M: number, S: number) => ({
    absorption: (100 * (M - D)) / D,
    open: (100 * (M - D)) / (M - S),
    bulk: (D / (M - S)) * p.water_kg_m3,
    solid: (D / (D - S)) * p.water_kg_m3,
  });
  const g = p.plusMinus_g / DEVIATIONS_80;
  const at = figures(p.dry_g, p.soaked_g, p.hanging_g);
  const off = [
    figures(p.dry_g + g, p.soaked_g, p.hanging_g),
    figures(p.dry_g, p.soaked_g + g, p.hanging_g),
    figures(p.dry_g, p.soaked_g, p.hanging_g + g),
  ];
  const told = (key: keyof typeof at): Told => ({
    name: p.name,
    value: at[key],
    sd: Math.hypot(...off.map((o) => o[key] - at[key])),
  });
  return { absorption: told('absorption'), open: told('open'), bulk: told('bulk'), solid: told('solid') };
};

const notesOf = (used: readonly AbsorptionPiece[], absorption: Mean): string[] => {
  const light = used.filter((p) => p.dry_g < LIGHT_g).map((p) => p.name);
  return [
    ...(light.length > 0
      ? [`Light pieces (${light.join(', ')}): under ${LIGHT_g} g a drop of water counts for much.`]
      : []),
    absorption.value <= VITRIFIED_percent
      ? `${absorption.value.toFixed(2)} % of water: vitrified by the measure for porcelain tile (at most ${VITRIFIED_percent} %, ISO 10545-3).`
      : `${absorption.value.toFixed(2)} % of water: not yet vitrified by the measure for porcelain tile (at most ${VITRIFIED_percent} %, ISO 10545-3).`,
  ];
};

/** Undefined where no piece is left that could be. Faults of weights are said, not thrown: the other pieces still tell. */
export const absorptionFrom = (
  pieces: readonly AbsorptionPiece[],
): AbsorptionFinding | { readonly faults: readonly string[]; readonly bulkDensity_kg_m3?: undefined } => {
  const faults = pieces.flatMap((p) => faultOf(p) ?? []);
  const used = pieces.filter((p) => faultOf(p) === undefined);
  if (used.length === 0) return { faults };
  const all = used.map(weighed);
  const absorption_percent = meanOf(all.map((w) => w.absorption));
  return {
    absorption_percent,
    openPorosity_percent: meanOf(all.map((w) => w.open)),
    bulkDensity_kg_m3: meanOf(all.map((w) => w.bulk)),
    solidDensity_kg_m3: meanOf(all.map((w) => w.solid)),
    faults,
    contradictions: oddAmong(all.map((w) => w.bulk)).map(
      ({ name, off }) =>
        `Piece ${name} is ${Math.round(Math.abs(off))} kg/m³ ${off > 0 ? 'denser' : 'lighter'} than the others have it: another firing, a bubble, or a slip in a weight?`,
    ),
    notes: notesOf(used, absorption_percent),
  };
};
