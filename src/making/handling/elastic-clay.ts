/** How a wall springs at room temperature. All of it handbook values for clays of this kind, none of this very clay. */
export interface ElasticClay {
  readonly state: 'bone dry' | 'fired';
  /** Young's modulus, Pa, and the range such clays lie in. */
  readonly modulus_Pa: number;
  readonly low_Pa: number;
  readonly high_Pa: number;
  readonly poisson: number;
  readonly how: 'published' | 'guess';
  /** A sentence to show as it is. */
  readonly from: string;
}

/**
 * Fired studio porcelain. Published: all IEC 60672 engineering porcelains 67 to 150 GPa, ratio 0.17 (compiled at
 * makeitfrom.com, "Engineering Porcelain"). Table porcelain, glassier, at or under their lower end: 60 to 80 GPa, ratio
 * 0.17 to 0.25 (from memory).
 */
export const FIRED: ElasticClay = {
  state: 'fired',
  modulus_Pa: 70e9,
  low_Pa: 60e9,
  high_Pa: 80e9,
  poisson: 0.2,
  how: 'guess',
  from:
    'Stiffness of fired porcelain: 60 to 80 GPa, ratio 0.2 (a guess; engineering porcelains after IEC 60672 are published with ' +
    '67 to 150 GPa and 0.17, and studio porcelain lies near the lower end).',
};

/** Dry clay bodies, 2 to 10 GPa (from memory); it swings with pores and with the damp of the room. */
export const BONE_DRY: ElasticClay = {
  state: 'bone dry',
  modulus_Pa: 5e9,
  low_Pa: 2e9,
  high_Pa: 10e9,
  poisson: 0.2,
  how: 'guess',
  from: 'Stiffness of bone-dry clay: 2 to 10 GPa, ratio 0.2 (a guess from handbook values for dry clay bodies).',
};
