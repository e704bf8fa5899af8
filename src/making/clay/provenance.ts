import type { Clay } from './clay.ts';
import { type Provenance, provenanceText } from './known.ts';

const percent = (v: { readonly value_percent: number }): string => `${v.value_percent} %`;
const SUPERSCRIPT = '⁰¹²³⁴⁵⁶⁷⁸⁹';

/** To three figures, as printed in a book: 3 × 10⁹. */
const scientific = (value: number): string => {
  const [figures, exponent] = Number(value.toPrecision(3)).toExponential().split('e');
  const raised = [...exponent!.replace('+', '')]
    .map((c) => (c === '-' ? '⁻' : SUPERSCRIPT[Number(c)]))
    .join('');
  return `${figures} × 10${raised}`;
};

/** A note may begin with the very words that say how the value is known. */
const saidOnce = (p: Provenance): Provenance =>
  p.how === 'guess' && p.source === undefined && p.note?.startsWith('a guess, ')
    ? { ...p, note: p.note.slice('a guess, '.length) }
    : p;

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
    from: provenanceText(saidOnce(p)),
  });
  const sag = clay.sagViscosity;
  const pores = clay.sintering;
  return [
    of(
      'Sag viscosity',
      `${scientific(sag.value_Pa_s)} Pa·s at ${sag.at_C} °C, ${sag.activation_kJ_mol} kJ/mol; four times in five within a factor ${sag.factor80}`,
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
