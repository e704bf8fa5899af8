import { AfterfireError } from '../../error.ts';
import type { MakeEngine } from '../../kernel/numerics/front-engine.ts';
import { normalQuantile } from '../../kernel/numerics/normal.ts';
import { positionsAt, wallAt } from '../../kernel/shell/film.ts';
import type { ClayHistory } from '../clay/clay-history.ts';
import { type CoarseFilm, filmUntil, meetsAt, touchesAt } from '../firing/coarse-film.ts';
import type { FiringInput, FiringProgress } from '../firing/firing.ts';
import type { OnShelf } from '../firing/how-sure.ts';
import { sizeOf } from '../firing/outcome.ts';
import { setOnShelf } from '../firing/placed.ts';
import { soften } from '../firing/soften.ts';
import { standingOf } from '../firing/standing.ts';
import type { FilmTable } from './learning-log.ts';
import { leverOf, measuresOf, type Wish } from './piece-measures.ts';

/**
 * One coarse run of a piece to a generous reading of the creep clock, as tables: whatever softness of clay and heat of
 * kiln is asked about later is a place in them. The only costly part of learning.
 */

/** What a piece needs to be run: care does not matter here. */
export type PieceInput = Pick<FiringInput, 'form' | 'clay' | 'schedule' | 'setting'>;

const TRIANGLES = 1400;
/** Where fewer would leave out flutes or openings. */
const MORE_TRIANGLES = 3000;
/** Part of the size of the piece a step may be off by: the mesh is off by more. */
const TOLERANCE = 3e-4;
/** First entry of a table: this far down the piece has hardly moved. */
const LEAST_LN = -3.2;
const TABLE_STEP = 0.1;

/** Share of the movement four meshes in five are off by at 2,000 triangles, as the firing's own intervals take it. */
const MESH_SHARE_80 = { plain: 0.03, altered: 0.1 } as const;
const meshSdOf = (input: PieceInput, triangles: number): number => {
  const plain = input.form.alterations.length === 0 && input.form.carving.length === 0;
  const share = MESH_SHARE_80[plain ? 'plain' : 'altered'] * Math.sqrt(2000 / triangles);
  return share / normalQuantile(0.9);
};

const coarsePiece = (input: PieceInput, triangles: number): OnShelf => {
  const asked: FiringInput = { ...input, triangles, care: 'quick' };
  try {
    const piece = setOnShelf(asked, triangles, true);
    if (piece.mesh.tooFine.length === 0 && !piece.mesh.carved?.leftOut.length) return piece;
  } catch (e) {
    if (!(e instanceof AfterfireError)) throw e;
  }
  return setOnShelf(asked, Math.max(triangles, MORE_TRIANGLES), true);
};

const tableOf = (film: CoarseFilm, clock: number, scale: number, mostLn: number, wish: Wish): FilmTable => {
  const reach = Math.log(film.reach / clock);
  const lnClock: number[] = [];
  for (let ln = LEAST_LN; ln < Math.min(reach, mostLn) - 1e-9; ln += TABLE_STEP) lnClock.push(ln);
  lnClock.push(Math.min(reach, mostLn));
  const rows = lnClock.map((ln) => {
    const c = clock * Math.exp(ln);
    return measuresOf(film, positionsAt(film.steps, c), wallAt(film.steps, c), scale, wish);
  });
  const lnOf = (c: number | undefined): number | undefined =>
    c === undefined ? undefined : Math.log(c / clock);
  const fell = film.end === 'fell' ? reach : undefined;
  const touches = lnOf(touchesAt(film, film.mesh.lipNodes));
  const meets = lnOf(meetsAt(film));
  return {
    lnClock: lnClock.map(short),
    readings: Object.fromEntries(wish.keys.map((key) => [key, rows.map((row) => short(row[key]))])),
    levers: Object.fromEntries(wish.keys.map((key) => [key, short(leverOf(key, film, scale))])),
    reach: short(Math.min(reach, mostLn)),
    ...(fell !== undefined && { falls: short(fell) }),
    ...(touches !== undefined && { touches: short(touches) }),
    ...(meets !== undefined && { meets: short(meets) }),
    meshSd: 0,
  };
};

/** Six figures are more than any of it is known to. */
const short = (x: number): number => Number(x.toPrecision(6));

/**
 * @param history what the heat does to `input.clay`
 * @param mostLn how far to run, as ln of the clock against that at the end of `history`
 * @throws AfterfireError where the piece cannot stand as set
 */
export function* pieceFilm(
  input: PieceInput,
  history: ClayHistory,
  mostLn: number,
  wish: Wish,
  engine?: MakeEngine,
  triangles = TRIANGLES,
): Generator<FiringProgress, FilmTable, void> {
  const piece = coarsePiece(input, triangles);
  const clock = history.creepClockUnshrunk.at(-1) as number;
  const most = clock * Math.exp(mostLn);
  const { setting } = input;
  const film = yield* filmUntil(
    piece,
    soften({
      mesh: piece.mesh,
      positions: piece.down.positions,
      clay: input.clay,
      history,
      shelf: setting.shelf,
      standing: standingOf(setting, piece.down),
      hotSide: setting.hotSide,
      steadied: setting.attitude === 'on its side' || setting.props.length > 0,
      clockEnd: most,
      tolerance_m: TOLERANCE * sizeOf(piece.down.positions),
      longest: (c) => Math.max(clock / 8, c / 2),
      engine,
    }),
    { least: most, most, moved: () => false },
    (fraction) => ({ fraction, note: 'running the piece' }),
  );
  const table = tableOf(film, clock, history.linearScale.at(-1) as number, mostLn, wish);
  return { ...table, meshSd: short(meshSdOf(input, piece.mesh.triangles.length / 3)) };
}
