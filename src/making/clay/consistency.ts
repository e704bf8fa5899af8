import type { Fault } from '../../error.ts';

/** The densities and shrinkages of a clay: over-determined, so they can contradict one another. */
export interface BulkValues {
  readonly solidDensity: { readonly value_kg_m3: number };
  readonly throwingMoisture: { readonly value_percent: number };
  readonly wetDensity?: { readonly value_kg_m3: number } | undefined;
  readonly dryingShrinkage: { readonly value_percent: number };
  readonly boneDryDensity: { readonly value_kg_m3: number };
  readonly lossOnIgnition: { readonly value_percent: number };
  readonly firingShrinkage: { readonly value_percent: number };
  readonly firedDensity: { readonly value_kg_m3: number };
}

/** Two readings of the same density by careful hands differ by about this much (common practice, no source). */
const DENSITY_TOLERANCE = 0.02;
/** A third of a point of shrinkage is about the same 1 % of volume. */
const SHRINKAGE_TOLERANCE_points = 0.35;

/**
 * Density as thrown, the pores full of water and free of air: (1 + w)/(1/solid + w/water), w on the dry basis.
 * 1000 kg/m3 for water is exact enough here (0.2 % at 20 °C).
 */
export const saturatedDensity_kg_m3 = (clay: BulkValues): number => {
  const w = clay.throwingMoisture.value_percent / 100;
  return (1 + w) / (1 / clay.solidDensity.value_kg_m3 + w / 1000);
};

/** Density as thrown: as stated, else as moisture and solid density give it. */
export const wetDensity_kg_m3 = (clay: BulkValues): number =>
  clay.wetDensity?.value_kg_m3 ?? saturatedDensity_kg_m3(clay);

/** Bone-dry density that the wet density, the moisture and the drying shrinkage lead to. */
export const boneDryDensityFromWet_kg_m3 = (clay: BulkValues): number => {
  const w = clay.throwingMoisture.value_percent / 100;
  const dried = (1 - clay.dryingShrinkage.value_percent / 100) ** 3;
  return wetDensity_kg_m3(clay) / (1 + w) / dried;
};

/** Firing shrinkage in % from the densities: (Lf/Ld)^3 = dry (1 - LOI)/fired, conservation of mass. */
export const firingShrinkageFromDensities_percent = (clay: BulkValues): number => {
  const left = clay.boneDryDensity.value_kg_m3 * (1 - clay.lossOnIgnition.value_percent / 100);
  return 100 * (1 - Math.cbrt(left / clay.firedDensity.value_kg_m3));
};

const densityFault = (field: string, stated: number, expected: number, from: string): Fault | undefined => {
  const off = stated / expected - 1;
  if (Math.abs(off) <= DENSITY_TOLERANCE) return undefined;
  const side = off > 0 ? 'more' : 'less';
  return {
    field,
    value: `${stated}`,
    expected: `about ${Math.round(expected)}, which follows from ${from}; it is ${(100 * Math.abs(off)).toFixed(1)} % ${side}, or one of those is wrong`,
  };
};

/** Where the values of a clay contradict one another, and by how much; empty when they agree. */
export const disagreements = (clay: BulkValues): Fault[] => {
  const faults: (Fault | undefined)[] = [
    clay.wetDensity &&
      densityFault(
        'clay.wetDensity.value_kg_m3',
        clay.wetDensity.value_kg_m3,
        saturatedDensity_kg_m3(clay),
        'throwingMoisture and solidDensity (clay without air)',
      ),
    densityFault(
      'clay.boneDryDensity.value_kg_m3',
      clay.boneDryDensity.value_kg_m3,
      boneDryDensityFromWet_kg_m3(clay),
      `${clay.wetDensity ? 'wetDensity' : 'solidDensity'}, throwingMoisture and dryingShrinkage`,
    ),
  ];
  const stated = clay.firingShrinkage.value_percent;
  const expected = firingShrinkageFromDensities_percent(clay);
  if (Math.abs(stated - expected) > SHRINKAGE_TOLERANCE_points) {
    faults.push({
      field: 'clay.firingShrinkage.value_percent',
      value: `${stated}`,
      expected: `about ${expected.toFixed(1)}, which follows from boneDryDensity, lossOnIgnition and firedDensity; it is ${Math.abs(stated - expected).toFixed(1)} points ${stated > expected ? 'more' : 'less'}, or one of those is wrong`,
    });
  }
  return faults.filter((f) => f !== undefined);
};
