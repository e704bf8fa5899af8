import type { Belief } from './belief.ts';
import { expected, paced, readable } from './expected.ts';
import type { Evidence, PieceEvidence } from './learning-log.ts';
import { named } from './names.ts';
import { chanceOfFall } from './predict.ts';
import { lnStudent, weightOf } from './robust.ts';

/** Measures that nothing else agrees with, named; they weigh little, but nobody is silent about them. */

/** Off by more of its own standard deviations than this, once in sixteen thousand under the normal law. */
const FAR_OFF = 4;
/** A piece as a whole further from the others than this. */
const ODD_PIECE = 3;
const STEPS = 81;

/** The piece's own clock, in standard deviations off what is believed of the kiln's pieces, that suits it best. */
const ownBest = (piece: PieceEvidence, middle: number, sd: number, size: number): number => {
  const told = readable(piece.film, piece.readings).map((r) => ({ ...r, at: expected(piece.film, r.key) }));
  let [best, most] = [0, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < STEPS; i++) {
    const z = 6 * ((2 * i) / (STEPS - 1) - 1);
    const ln = told.reduce(
      (sum, r) => sum + lnStudent((r.value_mm - r.at(middle + sd * z, size)) / r.sd_mm),
      -0.5 * z * z,
    );
    if (ln > most) [best, most] = [z, ln];
  }
  return best;
};

const pieceSays = (piece: PieceEvidence, evidence: Evidence, belief: Belief): string[] => {
  const kiln = belief.kilns.find((k) => k.name === evidence.kiln);
  const middle = belief.softness.mean + paced(evidence.pace)(kiln?.mean_K ?? 0);
  const size = belief.size.mean;
  const who = `Piece ${piece.number}`;
  const said: string[] = [];
  if (piece.loss === 'fell over') {
    if (chanceOfFall(piece.film, evidence.pace, belief, evidence.kiln) < 0.02)
      said.push(
        `${who} fell over, which nothing else would have it do: was it knocked, or did its shelf tilt? It counts for little.`,
      );
    return said;
  }
  const sd = Math.hypot(Math.exp(belief.wall.mean), piece.film.meshSd);
  const z = ownBest(piece, middle, sd, size);
  if (Math.abs(z) > ODD_PIECE)
    said.push(
      `${who} moved ${z > 0 ? 'more' : 'less'} than the others have it (${Math.abs(z).toFixed(1)} standard deviations): a ${z > 0 ? 'thinner' : 'thicker'} wall than drawn, or a ${z > 0 ? 'hotter' : 'cooler'} place?`,
    );
  for (const r of readable(piece.film, piece.readings)) {
    const due = expected(piece.film, r.key)(middle + sd * z, size);
    const off = (r.value_mm - due) / r.sd_mm;
    if (Math.abs(off) > FAR_OFF)
      said.push(
        `${who}: ${named(r.key)} ${r.value_mm.toFixed(1)} mm does not go with the rest, which has it near ${due.toFixed(1)} mm (off by ${Math.abs(off).toFixed(0)} standard deviations). It keeps ${(100 * weightOf(off)).toFixed(0)} % of its weight; measure again, or look for a slip of the pen.`,
      );
  }
  return said;
};

/** @param belief held after the evidence */
export const contradictionsIn = (evidence: Evidence, belief: Belief): string[] => [
  ...evidence.pieces.flatMap((p) => pieceSays(p, evidence, belief)),
  ...barSays(evidence, belief),
];

const barSays = ({ softness, offset, kiln, pace }: Evidence, belief: Belief): string[] => {
  const of = belief.kilns.find((k) => k.name === kiln);
  const said: string[] = [];
  if (softness) {
    const z = (softness.mean - belief.softness.mean - paced(pace)(of?.mean_K ?? 0)) / softness.sd;
    if (Math.abs(z) > FAR_OFF)
      said.push(
        `This test piece says ${z > 0 ? 'softer' : 'stiffer'} by a factor of ${Math.exp(Math.abs(z) * softness.sd).toFixed(1)} than all the rest: ` +
          'did it touch its support, or was its thickness taken wrongly? It counts for little.',
      );
  }
  if (offset && of) {
    const z = (offset.mean_K - of.mean_K) / offset.sd_K;
    if (Math.abs(z) > FAR_OFF)
      said.push(
        `The kiln is said to have been ${offset.mean_K.toFixed(0)} °C off, the pieces have it at ${of.mean_K.toFixed(0)} °C.`,
      );
  }
  return said;
};
