import { GAS_CONSTANT_J_molK, kelvinFromCelsius } from '../../units.ts';
import type { Clay } from './clay.ts';

/** exp(-(Q/R)(1/T - 1/Tref)): how much faster a thermally activated process runs at T than at Tref (Arrhenius). */
export const speedUp = (T_K: number, reference_K: number, activation_J_mol: number): number =>
  Math.exp((-activation_J_mol / GAS_CONSTANT_J_molK) * (1 / T_K - 1 / reference_K));

/**
 * Shear viscosity in Pa·s of the dense (fully fired) body at a temperature in kelvin.
 * This is what makes a fired piece sag; how fast pores close is another process (sintering.ts). A sag viscosity
 * computed from the melt and its crystals comes out too low by orders of magnitude, so it is taken as data.
 */
export const sagViscosity_Pa_s = ({ sagViscosity: v }: Clay, T_K: number): number =>
  v.value_Pa_s / speedUp(T_K, kelvinFromCelsius(v.at_C), v.activation_kJ_mol * 1000);
