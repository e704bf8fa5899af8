import { type Clay, parseClay } from '../clay/clay.ts';
import type { KilnKnown } from '../firing/ensemble.ts';
import type { Belief } from './belief.ts';
import { DEVIATIONS_80 } from './expected.ts';
import { type LearningLog, standingEntries } from './learning-log.ts';
import { FIRING_SCATTER_K } from './posterior.ts';
import { unknownKiln } from './start.ts';

/** From a belief to what a firing takes: a clay of its own, and what is known of a kiln. */

const counted = (log: LearningLog): string => {
  const standing = standingEntries(log);
  const pieces = standing.reduce((sum, e) => sum + e.evidence.pieces.length, 0);
  const bars = standing.filter((e) => e.kind === 'test piece').length;
  const parts = [
    ...(pieces > 0 ? [`${pieces} fired ${pieces === 1 ? 'piece' : 'pieces'}`] : []),
    ...(bars > 0 ? [`${bars} test ${bars === 1 ? 'piece' : 'pieces'}`] : []),
  ];
  return parts.join(' and ');
};

const factor = (sd: number): number => Math.max(1, Math.exp(DEVIATIONS_80 * sd));

/**
 * The clay with the softness learned; a new value, the old one is named in its note. The same where nothing was learned.
 * Shrinkages stay as they are: fired sizes learned are told by `beliefTold`, since a file's shrinkages and densities hang together.
 * @param belief of `log` now
 */
export const learnedClay = (clay: Clay, log: LearningLog, belief: Belief): Clay => {
  const from = counted(log);
  if (from === '') return clay;
  const { value_Pa_s, at_C, activation_kJ_mol, factor80 } = log.reference;
  const last = standingEntries(log).at(-1)?.date;
  return parseClay({
    ...clay,
    sagViscosity: {
      value_Pa_s: Number((value_Pa_s / Math.exp(belief.softness.mean)).toPrecision(4)),
      at_C,
      activation_kJ_mol,
      factor80: Number(factor(belief.softness.sd).toPrecision(4)),
      how: 'measured',
      note: `learned from ${from} up to ${last}; before that ${value_Pa_s.toPrecision(2)} Pa·s within a factor of ${factor80}`,
    },
  });
};

/** Where to keep it: beside the old file, never over it. */
export const learnedClayFile = (file: string, date: string): string =>
  `${file.replace(/(-learned-[\d-]+)?\.clay\.json$/, '')}-learned-${date}.clay.json`;

/** What a firing in this kiln should take as known (`FiringInput.known`): the clay in it must be the learned one. */
export const kilnKnown = (belief: Belief, kiln: string): KilnKnown => {
  const k = belief.kilns.find(({ name }) => name === kiln) ?? unknownKiln(kiln);
  // A piece's own scatter is one more softness nobody knows beforehand, a firing's own offset one more kiln.
  const soft = Math.hypot(belief.softness.sd, Math.exp(belief.wall.mean));
  const hot = Math.hypot(k.sd_K, FIRING_SCATTER_K);
  return {
    off_K: k.mean_K,
    kiln_K: DEVIATIONS_80 * hot,
    softness: factor(soft),
    together: (k.withSoftness * belief.softness.sd * k.sd_K) / (soft * hot),
  };
};

const signed = (x: number, digits = 0): string => `${x < 0 ? '−' : '+'}${Math.abs(x).toFixed(digits)}`;

/** The belief in sentences, to show as they are. */
export const beliefTold = (log: LearningLog, belief: Belief): string[] => {
  const { softness, size, wall } = belief;
  const from = counted(log);
  const times = Math.exp(Math.abs(softness.mean));
  const how = `within a factor of ${factor(softness.sd).toFixed(2)}, four times in five`;
  const than = `than ${log.reference.value_Pa_s.toPrecision(2)} Pa·s at ${log.reference.at_C} °C`;
  return [
    from === '' ? 'Nothing learned yet: all of this is the clay file and guesses.' : `Learned from ${from}.`,
    times < 1.02
      ? `The clay is as soft as its file says, ${how}.`
      : `The clay is ${times.toFixed(2)} times ${softness.mean > 0 ? 'softer' : 'stiffer'} ${than}, ${how}.`,
    ...belief.kilns.map(
      (k) =>
        `${k.name}: ${signed(k.mean_K)} °C at the peak against its schedule, ±${(DEVIATIONS_80 * k.sd_K).toFixed(0)} °C.`,
    ),
    `Fired sizes: ${signed(100 * size.mean, 1)} % against the clay file, ±${(100 * DEVIATIONS_80 * size.sd).toFixed(1)} %${Math.abs(size.mean) > 2 * DEVIATIONS_80 * size.sd ? ': its shrinkages want measuring' : ''}.`,
    `Pieces of one form differ in softness by about ±${(100 * DEVIATIONS_80 * Math.exp(wall.mean)).toFixed(0)} %, walls not being as drawn.`,
  ];
};
