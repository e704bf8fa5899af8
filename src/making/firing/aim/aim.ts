import type { WallMesh } from '../../../kernel/mesh/mesh.ts';
import type { MakeEngine } from '../../../kernel/numerics/front-engine.ts';
import { wallAtNodes } from '../../../kernel/shell/soft-shape.ts';
import { scaleBetween } from '../../clay/shrinkage.ts';
import { poseOf } from '../pose.ts';
import { provenanceOf } from '../provenance.ts';
import { turnBack } from '../set-down.ts';
import type { Aim, AimInput, AimProgress, AimRun } from './aim-contract.ts';
import { aimWarnings, fallsText, reachedText } from './aim-words.ts';
import { wallsOf } from './fired-way.ts';
import { lessHeat } from './less-heat.ts';
import { type Found, type Sought, type Step, seek, type Tried } from './passes.ts';
import { setWanted, soughtFor, type Wanted } from './wanted.ts';

/** One pass is often enough, so the first takes half of the bar. */
const fractionOf = ({ pass, note, done }: Step): number => {
  const half = note === 'through the fire' ? 0.5 : 0;
  const begun = 0.5 + 0.15 * Math.max(0, pass - 1);
  const within = half + 0.5 * done;
  // The way back after pass k belongs to pass k + 1.
  return Math.min(0.99, pass === 0 ? 0.5 * within : begun + 0.15 * within);
};

function* followed(s: Sought): Generator<AimProgress, Found, void> {
  const run = seek(s);
  try {
    for (let r = run.next(); ; r = run.next()) {
      if (r.done) return r.value;
      yield { fraction: fractionOf(r.value), note: r.value.note, passes: r.value.passes.slice() };
    }
  } finally {
    run.return(undefined as never);
  }
}

/** A shape in bone-dry lengths as a wall at another size. */
const wallOf = (s: Sought, positions: Float64Array, scale: number): WallMesh => {
  const { way } = s;
  const wall = { positions, thickness_m: wallsOf(way, positions), skinShare: way.skinShare };
  return {
    positions: positions.map((x) => scale * x),
    triangles: way.triangles,
    thickness_m: wallAtNodes(wall, way.triangles).map((h) => scale * h),
  };
};

/** Where nothing was found the wanted shape itself stands in for the green one, and nothing is known of its firing. */
const nothingFound = (s: Sought): Tried => {
  const nodes = s.wanted.length / 3;
  return {
    green: s.wanted,
    fired: s.wanted,
    laid: s.wanted,
    difference_m: new Float64Array(nodes).fill(Number.NaN),
    lies: s.lies,
    flattened_m: Number.NaN,
    max_m: Number.NaN,
    rms_m: Number.NaN,
  };
};

const answer = (input: AimInput, w: Wanted, s: Sought, found: Found, verdict: Aim['verdict']): Aim => {
  const { mesh, down, firedScale, history } = w;
  const best = found.best ?? nothingFound(s);
  const green = wallOf(s, best.green, 1);
  const placed = { input, history, mesh, down, scale: firedScale };
  const drawn = {
    ...mesh,
    positions: mesh.positions.map((x) => firedScale * x),
    thickness_m: mesh.thickness_m.map((h) => firedScale * h),
  };
  const wanted = wallOf(s, s.wanted, firedScale);
  return {
    input,
    mesh: drawn,
    place: poseOf(drawn, { turn: down.turn, positions: wanted.positions }),
    wanted,
    green,
    fired: wallOf(s, best.laid, firedScale),
    thrownScale: scaleBetween(input.clay, 'dry', 'wet'),
    firedScale,
    difference_m: best.difference_m,
    max_m: best.max_m,
    rms_m: best.rms_m,
    lies: best.lies,
    flattened_m: best.flattened_m,
    tolerance_m: s.tolerance_m,
    passes: found.passes,
    reached: verdict.kind === 'reached' || verdict.kind === 'reached-but-where-it-lies',
    verdict,
    warnings: aimWarnings(placed, w.heat, input, found.best && green),
    provenance: provenanceOf(input.clay, input.setting),
  };
};

/** So many tolerances off, it is worth finding out with how much less heat it would work. */
const FAR = 5;

/**
 * From the wanted fired form to the green piece the fire turns into it, in this setting, clay and firing. Drive the generator
 * to its end for the answer; each `next()` is one step, and stopping is cancelling.
 * @param engine who does the factorisations; plain TypeScript where left out
 * @throws AfterfireError `bad-input`, see `setWanted`
 */
export function* aim(input: AimInput, engine?: MakeEngine): AimRun {
  const w = setWanted(input);
  const s = soughtFor(w, input, engine);
  const found = yield* followed(s);
  const off = found.best?.max_m ?? Number.POSITIVE_INFINITY;
  const less =
    input.care === 'full' && off > FAR * s.tolerance_m ? yield* lessHeat(input, engine) : 'not asked';
  if (!found.best) return answer(input, w, s, found, fallsText(found, less));
  const { max_m, flattened_m } = found.best;
  const verdict = reachedText({
    max_m,
    flattened_m,
    tolerance_m: s.tolerance_m,
    passes: found.passes.length,
    onSpots: s.onSpots,
    less,
  });
  return answer(input, w, s, found, verdict);
}

/**
 * Positions of one of an aim's shapes led back to the drawing: upright, axis on z, foot on the shelf.
 * @param positions of `wanted`, `green` or `fired` @param scale their size against the fired one: 1, or 1/firedScale for `green`
 */
export const asDrawn = (a: Pick<Aim, 'place'>, positions: Float64Array, scale: number): Float64Array => {
  const { turn, shift_m } = a.place;
  return turnBack(
    positions.map((x, i) => x - scale * shift_m[i % 3]),
    Float64Array.from(turn),
  );
};
