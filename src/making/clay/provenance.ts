import type { Clay } from './clay.ts';
import { type Provenance, provenanceText } from './known.ts';

const percent = (v: { readonly value_percent: number }): string => `${v.value_percent} %`;
const density = (v: { readonly value_kg_m3: number }): string => `${v.value_kg_m3} kg/m³`;

export interface ClayValue {
  readonly name: string;
  readonly value: string;
  readonly how: Provenance['how'];
  /** Where it comes from, e.g. `a guess: until a test bar is fired`. */
  readonly from: string;
}

/** Every value of a clay in words, with where it comes from; most telling for the shape first. */
export const clayValues = (clay: Clay): ClayValue[] => {
  const of = (name: string, value: string, p: Provenance): ClayValue => ({
    name,
    value,
    how: p.how,
    from: provenanceText(p),
  });
  const sag = clay.sagViscosity;
  const pores = clay.sintering;
  return [
    of(
      'Sag viscosity',
      `${sag.value_Pa_s.toExponential()} Pa·s at ${sag.at_C} °C, ${sag.activation_kJ_mol} kJ/mol; four times in five within a factor ${sag.factor80}`,
      sag,
    ),
    of(
      'Closing of pores',
      `${pores.rate_per_h} per hour at ${pores.at_C} °C, ${pores.activation_kJ_mol} kJ/mol`,
      pores,
    ),
    of('Firing shrinkage', percent(clay.firingShrinkage), clay.firingShrinkage),
    of('Drying shrinkage', percent(clay.dryingShrinkage), clay.dryingShrinkage),
    of('Fired density', density(clay.firedDensity), clay.firedDensity),
    of('Bone-dry density', density(clay.boneDryDensity), clay.boneDryDensity),
    of('Loss on ignition', percent(clay.lossOnIgnition), clay.lossOnIgnition),
    of('Throwing moisture', `${percent(clay.throwingMoisture)} of the dry weight`, clay.throwingMoisture),
    of('Density of the grains', density(clay.solidDensity), clay.solidDensity),
    ...(clay.wetDensity ? [of('Density as thrown', density(clay.wetDensity), clay.wetDensity)] : []),
    of('Open pores, fired', percent(clay.openPorosityFired), clay.openPorosityFired),
    of('Closed pores, fired', percent(clay.closedPorosityFired), clay.closedPorosityFired),
  ];
};
