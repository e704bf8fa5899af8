/**
 * Viscous sintering after Skorohod and Olevsky: E. Olevsky, "Theory of sintering: from discrete to continuum",
 * Mater. Sci. Eng. R 23 (1998) 41-100, with the classical functions of porosity theta (0 dense, 1 empty):
 *   phi = (1-theta)^2,  psi = (2/3)(1-theta)^3/theta,  sintering stress (3 alpha/r0)(1-theta)^2,
 * where a porous body of skeleton viscosity eta has shear viscosity eta*phi and bulk viscosity 2*eta*psi.
 */
import { kelvinFromCelsius } from '../../units.ts';
import type { Clay } from './clay.ts';
import { speedUp } from './viscosity.ts';

/** phi: shear viscosity of the porous body against that of the dense one. */
export const shearFactor = (porosity: number): number => (1 - porosity) ** 2;

/** psi: half the bulk viscosity of the porous body against the shear viscosity of the dense one; grows without bound. */
export const bulkFactor = (porosity: number): number => ((2 / 3) * (1 - porosity) ** 3) / porosity;

/** How hard surface tension (N/m) of pores between grains of this radius pulls the body together, Pa. */
export const sinteringStress_Pa = (
  porosity: number,
  surfaceTension_N_m: number,
  grainRadius_m: number,
): number => ((3 * surfaceTension_N_m) / grainRadius_m) * (1 - porosity) ** 2;

/** Lateral against axial rate under a uniaxial load, (3 psi - phi)/(6 psi + phi); ½ when dense. */
export const viscousPoisson = (porosity: number): number => (2 - 3 * porosity) / (4 - 3 * porosity);

/** Uniaxial viscosity of the porous body against 3 eta of the dense one, 1/(1/phi + 1/(6 psi)); 1 when dense. */
export const uniaxialFactor = (porosity: number): number => (4 * (1 - porosity) ** 3) / (4 - 3 * porosity);

/**
 * Volumetric rate tr(strain rate) of free sintering in 1/s: -(sintering stress)/(2 eta psi),
 * which is -(9/4)(alpha/(eta r0)) theta/(1-theta); it makes d(theta)/dt = -k theta with the k returned by
 * `closingRateFromGrains_per_s`.
 */
export const freeRate_per_s = (porosity: number, closingRate_per_s: number): number =>
  (-closingRate_per_s * porosity) / (1 - porosity);

/** k = (9/4) alpha/(eta r0) of the classical theory, from surface tension, skeleton viscosity and grain radius. */
export const closingRateFromGrains_per_s = (
  surfaceTension_N_m: number,
  viscosity_Pa_s: number,
  grainRadius_m: number,
): number => (9 * surfaceTension_N_m) / (4 * viscosity_Pa_s * grainRadius_m);

/** Porosity after the closing rate has summed to `closing` = ∫k dt: exact, theta0 exp(-∫k dt). */
export const porosityAfter = (porosity: number, closing: number): number => porosity * Math.exp(-closing);

/** Linear size against that at the starting porosity, the solid keeping its volume. */
export const linearScale = (startPorosity: number, porosity: number): number =>
  Math.cbrt((1 - startPorosity) / (1 - porosity));

/**
 * The pores of a bone-dry clay that the fire can close. Counted against the *fired* body, whose lasting pores
 * (open and closed) go with the solid: that way full sintering gives exactly the stated firing shrinkage, and
 * `dense` means as dense as this clay gets, which is also the body whose sag viscosity is measured.
 */
export const startPorosity = (clay: Clay): number => 1 - (1 - clay.firingShrinkage.value_percent / 100) ** 3;

/** All pores by volume, the lasting ones of the fired body included. */
export const totalPorosity = (clay: Clay, porosity: number): number => {
  const lasting = (clay.openPorosityFired.value_percent + clay.closedPorosityFired.value_percent) / 100;
  return 1 - (1 - porosity) * (1 - lasting);
};

/** k of this clay at a temperature: d(theta)/dt = -k theta, 1/s. */
export const closingRate_per_s = ({ sintering: s }: Clay, T_K: number): number =>
  (s.rate_per_h / 3600) * speedUp(T_K, kelvinFromCelsius(s.at_C), s.activation_kJ_mol * 1000);
