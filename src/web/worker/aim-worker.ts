import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import type { MakeEngine } from '../../kernel/numerics/front-engine.ts';
import { wasmEngine } from '../../kernel/numerics/wasm-engine.ts';
import { aim } from '../../making/firing/aim/aim.ts';
import type { Aim, AimInput, AimProgress } from '../../making/firing/aim/aim-contract.ts';
import { bestSetting } from '../../making/firing/makeable/best-setting.ts';
import { makeable } from '../../making/firing/makeable/makeable.ts';
import type { BestSetting, Makeable } from '../../making/firing/makeable/makeable-contract.ts';
import { wallFor } from '../../making/firing/makeable/wall-for.ts';
import { turnBack } from '../../making/firing/set-down.ts';
import type { AimAsk, Made, Ranked } from './aim-jobs.ts';
import { forgeHere } from './forge.ts';
import { answerWith, drive } from './job-end.ts';

type Say = (fraction: number, note: string) => void;
type Step = { readonly fraction: number; readonly note: string };

/** Progress in words: what it does, and how near the last pass came. */
function* told<T>(run: Generator<AimProgress, T, void>): Generator<Step, T, void> {
  for (let r = run.next(); ; r = run.next()) {
    if (r.done) return r.value;
    const { fraction, note, passes } = r.value;
    const last = passes.at(-1);
    yield {
      fraction,
      note: last ? `${note}; pass ${passes.length} came to ${(1000 * last.max_m).toFixed(2)} mm` : note,
    };
  }
}

/** A quick look does not say what would work instead; where nothing does, that is looked for. */
const aimed = async (input: AimInput, say: Say, engine?: MakeEngine): Promise<Aim> => {
  const found = await drive(told(aim(input, engine)), say);
  if (found.verdict.kind !== 'falls' || input.care === 'full') return found;
  const again = await drive(told(aim({ ...input, care: 'full' }, engine)), (fraction, note) =>
    say(fraction, `looking for what would work: ${note}`),
  );
  return again;
};

const ends = (wall: WallMesh, axis: number): readonly [low: number, high: number] => {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = axis; i < wall.positions.length; i += 3) {
    low = Math.min(low, wall.positions[i]!);
    high = Math.max(high, wall.positions[i]!);
  }
  return [low, high];
};

/** Turned as drawn, and laid over the wanted piece so that their middles meet. */
const overWanted = (a: Aim, fired: WallMesh, turn: ArrayLike<number>): WallMesh => {
  const upright = { ...fired, positions: turnBack(fired.positions, Float64Array.from(turn)) };
  const shift = [0, 1, 2].map((axis) => {
    const [own, other] = [ends(upright, axis), ends(a.mesh, axis)];
    return (other[0] + other[1] - own[0] - own[1]) / 2;
  });
  return { ...upright, positions: upright.positions.map((x, i) => x + shift[i % 3]!) };
};

const shownOf = ({ aim: a, firing, fired, ...rest }: Makeable): Made => ({
  ...rest,
  ...(fired ? { fired: overWanted(a, fired, firing?.asSet.turn ?? a.place.turn) } : {}),
});

const rankedOf = ({ ranked, triangles, text }: BestSetting): Ranked => ({
  triangles,
  text,
  ranked: ranked.map(({ makeable: made, ...tried }) => {
    const place = made?.remains.find(({ kind }) => kind === 'place')?.text;
    return place === undefined ? tried : { ...tried, place };
  }),
});

answerWith<AimAsk>(async (ask, say) => {
  const forge = forgeHere();
  const engine = forge && wasmEngine(forge);
  if (ask.kind === 'aim') return aimed(ask.input, say, engine);
  if (ask.kind === 'make') return shownOf(await drive(makeable({ aim: ask.aim }, engine), say));
  if (ask.kind === 'settings') return rankedOf(await drive(bestSetting(ask.input, engine), say));
  return drive(wallFor(ask.input, engine), say);
});
