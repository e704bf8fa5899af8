/**
 * Shown wherever a firing is planned. Limits are quoted with their period and source and clear nothing: no
 * threshold makes a studio safe.
 */
export const KILN_CAUTIONS: readonly string[] = [
  'Afterfire advises and never switches a kiln; where it differs from the makers of your kiln, clay or shelves, they are right.',
  'Have the kiln wired or piped, and its room ventilated, by a licensed electrician or gas fitter under your local codes.',
  'A kiln gives off carbon monoxide and other fumes: vent it outdoors and keep a CO alarm (NIOSH limit 35 ppm over 8 h, 1972; OSHA limit 50 ppm over 8 h).',
  'Clay dust holds silica: clean wet and wear a fitted respirator (US limit for respirable crystalline silica 50 µg/m³ over 8 h, 29 CFR 1910.1053).',
  'Outside and inside stay hot for hours after the power is off: let it cool closed, use gloves, and eye protection made for glowing kilns at the spy hole.',
  'Put a saucer or a cookie of fired clay under a piece that may move, and lift shelves and full kiln loads with help.',
];
