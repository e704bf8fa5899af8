/** SI inside, the artist's units outside. Every conversion the program makes stands here. */
export const GRAVITY_m_s2 = 9.80665; // standard gravity, exact by definition (CGPM 1901)
export const GAS_CONSTANT_J_molK = 8.31446261815324; // CODATA 2018, exact

export const kelvinFromCelsius = (t_C: number): number => t_C + 273.15;
export const celsiusFromKelvin = (t_K: number): number => t_K - 273.15;
export const fahrenheitFromCelsius = (t_C: number): number => (t_C * 9) / 5 + 32;
export const celsiusFromFahrenheit = (t_F: number): number => ((t_F - 32) * 5) / 9;

export const metresFromMm = (l_mm: number): number => l_mm / 1000;
export const mmFromMetres = (l_m: number): number => l_m * 1000;
export const inchesFromMetres = (l_m: number): number => l_m / 0.0254; // international inch, exact
export const gramsFromKg = (m_kg: number): number => m_kg * 1000;
export const litresFromCubicMetres = (v_m3: number): number => v_m3 * 1000;
