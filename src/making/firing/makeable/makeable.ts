import type { MakeEngine } from '../../../kernel/numerics/front-engine.ts';
import { nodeNormals } from '../../../kernel/shell/geometry.ts';
import type { Form } from '../../form/form.ts';
import type { Aim } from '../aim/aim-contract.ts';
import { carriedTo, compareFired, type FiredDifference } from './compare-fired.ts';
import { downOfTurn, fireMade, type MadeFired } from './made-fired.ts';
import type { Makeable, MakeableInput, MakeableProgress, MakeableRun, Round } from './makeable-contract.ts';
import { offAxis } from './off-axis.ts';
import { type Target, targetOf } from './target.ts';
import { thrownForm } from './thrown-form.ts';
import { type Handmade, toHands } from './to-hands.ts';
import { addedTold, changesOf, remainsOf } from './told.ts';

/** The made form is fired on a mesh this much finer than it was fitted on. */
const FINER = 1.5;
const CORRECTIONS = 1;
/** A guess at what an eye lets pass. */
const LIMIT_m = 1e-3;
const LIMIT_SHARE = 0.01;
const MOST_TRIANGLES = 200_000;

/** What is still well for a piece so large, m. */
export const limitOfSize = (size_m: number): number => Math.max(LIMIT_m, LIMIT_SHARE * size_m);

const limitFor = (aim: Pick<Aim, 'wanted'>, limit_m?: number): number => {
  if (limit_m !== undefined) return limit_m;
  const reach = [Number.POSITIVE_INFINITY, 0];
  for (const x of aim.wanted.positions) {
    reach[0] = Math.min(reach[0], x);
    reach[1] = Math.max(reach[1], x);
  }
  return limitOfSize(reach[1] - reach[0]);
};

/** From bone-dry metres of the aim to mm of the wet piece. */
const dryToThrown_mm = (aim: Aim): number => 1000 * aim.thrownScale;
export const firedToThrown_mm = (aim: Aim): number => (1000 * aim.thrownScale) / aim.firedScale;

/** What the made form is to come near to: the free green shape. */
const greenTarget = (aim: Aim, wanted: Form): Target => {
  const lying = aim.input.setting.attitude === 'on its side';
  const counts = Float64Array.from(aim.lies, (l) => (l && lying ? 0 : 1));
  // On its foot a height is a height; hung from its lip the foot may be where the line likes, and the fire tells the rest.
  const ring = aim.input.setting.attitude === 'upright' ? aim.mesh.footNodes : undefined;
  return targetOf(aim.mesh, wanted, aim.green, aim.place.turn, dryToThrown_mm(aim), counts, ring);
};

interface Made {
  readonly made: Handmade;
  readonly fired: MadeFired;
  readonly difference: FiredDifference | undefined;
  readonly round: Round;
}

const NONE: Round = { max_m: Number.NaN, rms_m: Number.NaN };

/** Fires what was fitted and compares it. */
function* judged(
  made: Handmade,
  wanted: Form,
  aim: Aim,
  part: readonly [number, number],
  engine: MakeEngine | undefined,
): Generator<MakeableProgress, Made, void> {
  const triangles = Math.min(MOST_TRIANGLES, Math.round(FINER * aim.input.triangles));
  const run = fireMade({ aim, form: made.form, triangles }, engine);
  for (let r = run.next(); ; r = run.next()) {
    if (!r.done) {
      const fraction = part[0] + (part[1] - part[0]) * r.value.fraction;
      yield { fraction, note: 'firing what hands can make', frame: r.value.frame };
      continue;
    }
    const toThrown = firedToThrown_mm(aim);
    const difference = compareFired(r.value, made.form, wanted, toThrown, aim.input.setting.attitude);
    const round = difference
      ? { max_m: difference.fit.max_mm / toThrown, rms_m: difference.fit.rms_mm / toThrown }
      : NONE;
    return { made, fired: r.value, difference, round };
  }
}

/** The target moved by what the fire left over: what came out too far in is made further out. */
const corrected = (target: Target, { mesh, fit, counts }: FiredDifference, aim: Aim): Target => {
  const normals = new Float64Array(target.positions_mm.length);
  nodeNormals(target.positions_mm, target.triangles, normals);
  const off = fit.off_mm.map((o, i) => counts[i] * o);
  const wall = fit.wallOff_mm.map((o, i) => counts[i] * o);
  const [away, thick] = carriedTo(aim.mesh, mesh, [off, wall]);
  return {
    ...target,
    positions_mm: target.positions_mm.map((x, k) => x - away[Math.floor(k / 3)] * normals[k]),
    walls_mm: target.walls_mm.map((h, i) => h - thick[i]),
  };
};

const better = (a: Made, b: Made): boolean =>
  a.difference !== undefined && (b.difference === undefined || a.round.rms_m < b.round.rms_m);

/**
 * Fits what hands can do to the free shape of an aim, fires it on a finer mesh, corrects by what remains and says what
 * cannot be reached. Each `next()` is one step of a firing.
 * @throws AfterfireError as `fire` does
 */
export function* makeable(input: MakeableInput, engine?: MakeEngine): MakeableRun {
  const { aim, corrections = CORRECTIONS } = input;
  const wanted = thrownForm(aim.input.form, aim.input.clay);
  let target = greenTarget(aim, wanted);
  const share = (k: number): number => 0.2 + (0.8 * k) / (corrections + 1);
  yield { fraction: 0, note: 'fitting what hands can do' };
  const first = toHands(wanted, target);
  const free = { target, fit: first.free };
  let latest = yield* judged(first, wanted, aim, [share(0), share(1)], engine);
  let best = latest;
  const rounds = [latest.round];
  for (let k = 1; k <= corrections && latest.difference; k++) {
    target = corrected(target, latest.difference, aim);
    const next = toHands(latest.made.free.form, target, { fixed: true, begin: latest.made.free });
    const made = { ...next, added: first.added, pointsAdded: first.pointsAdded };
    latest = yield* judged(made, wanted, aim, [share(k), share(k + 1)], engine);
    rounds.push(latest.round);
    if (better(latest, best)) best = latest;
  }
  return answer(input, wanted, best, rounds, free);
}

const answer = (
  { aim, limit_m }: MakeableInput,
  wanted: Form,
  { made, fired, difference, round }: Made,
  rounds: readonly Round[],
  free: { readonly target: Target; readonly fit: Handmade['free'] },
): Makeable => {
  const limit = limitFor(aim, limit_m);
  const off = offAxis(free.fit, free.target);
  const toThrown = firedToThrown_mm(aim);
  const thrown = 1e-3;
  const looked = difference && {
    difference,
    setting: aim.input.setting,
    down_rad: downOfTurn(aim.place.turn),
    toFired: 1000 / toThrown,
  };
  const signed = difference?.fit.off_mm.map((o, i) => {
    const size = Math.hypot(...difference.fit.way_mm.subarray(3 * i, 3 * i + 3)) / toThrown;
    return o < 0 ? -size : size;
  });
  const { mesh } = fired;
  const nothing = (count: number): Float64Array => new Float64Array(count).fill(Number.NaN);
  return {
    aim,
    form: made.form,
    changes: changesOf(wanted, made),
    added: addedTold(made),
    mesh: fired.mesh,
    ...(fired.positions && fired.thickness_m
      ? {
          fired: {
            positions: fired.positions,
            thickness_m: fired.thickness_m,
            triangles: fired.mesh.triangles,
          },
        }
      : {}),
    ...(fired.firing ? { firing: fired.firing } : {}),
    difference_m: signed ?? nothing(mesh.along.length),
    differenceOnAim_m: signed ? carriedTo(aim.mesh, mesh, [signed])[0] : nothing(aim.mesh.along.length),
    lies: fired.lies,
    rolls_rad: fired.rolls_rad,
    ...round,
    limit_m: limit,
    within: round.max_m <= limit,
    fit: {
      free: { max_m: thrown * made.free.max_mm, rms_m: thrown * made.free.rms_mm },
      rounded: { max_m: thrown * made.fit.max_mm, rms_m: thrown * made.fit.rms_mm },
    },
    lean_m: thrown * off.lean_mm,
    bend_m: thrown * off.bend_mm,
    limits: made.limits,
    rounds,
    remains: looked
      ? remainsOf(looked, { made, off, limit_m: limit, rolls_rad: fired.rolls_rad })
      : [{ kind: 'falls', text: `Made by hand it does not come through. ${fired.gone ?? ''}` }],
  };
};
