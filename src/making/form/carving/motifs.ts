import type { Motif } from './carving-shape.ts';

/** The ready outlines as SVG path data in a box of `width` by `height` mm, y down. */
export const motifPath = (motif: Motif, width: number, height: number): string => {
  switch (motif) {
    case 'round':
      return 'M0 50 A50 50 0 0 1 100 50 A50 50 0 0 1 0 50 Z';
    case 'drop':
      return 'M50 0 C62 26 100 42 100 66 C100 86 78 100 50 100 C22 100 0 86 0 66 C0 42 38 26 50 0 Z';
    case 'leaf':
      return 'M50 0 C84 20 100 36 100 52 C100 70 80 88 50 100 C20 88 0 70 0 52 C0 36 16 20 50 0 Z';
    case 'lozenge':
      return 'M50 0 L100 50 L50 100 L0 50 Z';
    case 'slot':
      return slot(width, height);
    case 'arch':
      return arch(width, height);
  }
};

/** Its ends stay half circles, whatever its length. */
const slot = (w: number, h: number): string => {
  const r = Math.min(w, h) / 2;
  return w <= h
    ? `M0 ${r} A${r} ${r} 0 0 1 ${w} ${r} V${h - r} A${r} ${r} 0 0 1 0 ${h - r} Z`
    : `M${r} 0 H${w - r} A${r} ${r} 0 0 1 ${w - r} ${h} H${r} A${r} ${r} 0 0 1 ${r} 0 Z`;
};

/** A level sill, upright jambs, a head as round as there is height for. */
const arch = (w: number, h: number): string => {
  const rise = Math.min(w / 2, h);
  return `M0 ${h} V${rise} A${w / 2} ${rise} 0 0 1 ${w} ${rise} V${h} Z`;
};
