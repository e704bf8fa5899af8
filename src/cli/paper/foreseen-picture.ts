import { parseClay } from '../../making/clay/clay.ts';
import { fire } from '../../making/firing/fire.ts';
import type { FiringInput } from '../../making/firing/firing.ts';
import { Setting } from '../../making/firing/setting.ts';
import { parseForm } from '../../making/form/form.ts';
import { parseSchedule } from '../../making/kiln/schedule.ts';
import type { PieceState } from '../../making/record/piece-state.ts';
import type { PiecePicture } from '../../making/record-paper/piece-picture.ts';
import type { Db } from '../../store/db.ts';
import { firingById } from '../../store/firings.ts';
import { readSettings } from '../../store/settings.ts';
import { newestSheet, type SheetKind, sheetById, sheetJson } from '../../store/sheets.ts';
import { picturesOf } from '../drawing/pictures.ts';
import type { CutLine } from '../drawing/section.ts';
import { drive } from '../drive.ts';
import { engineHere } from '../engine.ts';
import type { Io } from '../io.ts';

/** How a piece comes out of the fire, foreseen from what the record holds of it. */

/** Fine enough for a section of some 100 mm on paper. */
const TRIANGLES = 4000;

type Ring = readonly (readonly [number, number])[];
const isClosed = (line: CutLine): boolean => line.length > 3 && line[0] === line.at(-1);

/** Both lines of a cut wall, in mm. */
const ringsOf = (line: CutLine): Ring[] => {
  const side = (sign: 1 | -1): [number, number][] =>
    line.map(({ u_m, z_m, halfU_m, halfZ_m }) => [
      1000 * (u_m + sign * halfU_m),
      1000 * (z_m + sign * halfZ_m),
    ]);
  return isClosed(line) ? [side(1), side(-1)] : [[...side(1), ...side(-1).reverse()]];
};

const ATTITUDES: readonly string[] = ['upright', 'rim down', 'on its side'];

interface Plan {
  readonly key: string;
  readonly input: () => FiringInput;
  readonly called: string;
}

/** What to fire, or why it cannot be foreseen. */
const planOf = (db: Db, state: PieceState): Plan | string => {
  const settings = readSettings(db);
  const usual = (kind: SheetKind, key: string | undefined): number | undefined =>
    key === undefined ? undefined : newestSheet(db, kind, key)?.id;
  const fired = state.firing ?? state.firings.at(-1);
  const form = state.form;
  const clay = state.clay ?? usual('clay', settings.clay);
  const schedule =
    (fired === undefined ? undefined : firingById(db, fired)?.state.schedule) ??
    usual('schedule', settings.schedule);
  const attitude = state.attitude ?? 'upright';
  if (form === undefined) return 'it has no form in the record';
  if (clay === undefined) return 'its clay is not in the record';
  if (schedule === undefined) return 'there is no schedule in the record';
  if (!ATTITUDES.includes(attitude))
    return `it was set ${attitude}, which needs props that the record does not hold`;
  return {
    key: [form, clay, schedule, attitude].join(),
    called: `${attitude}, ${sheetById(db, clay)?.name}, ${sheetById(db, schedule)?.name}`,
    input: () => ({
      form: parseForm(sheetJson(db, form)),
      clay: parseClay(sheetJson(db, clay)),
      schedule: parseSchedule(sheetJson(db, schedule)),
      setting: Setting.parse({ attitude }),
      triangles: TRIANGLES,
      care: 'quick',
    }),
  };
};

/** Foresees pieces one by one; those of one form, clay, schedule and attitude are fired once. */
export const foreseer = (
  db: Db,
  io: Io,
): ((number: string, state: PieceState) => Promise<PiecePicture | undefined>) => {
  const known = new Map<string, PiecePicture>();
  const engine = engineHere();
  return async (number, state) => {
    const plan = planOf(db, state);
    if (typeof plan === 'string') {
      io.err(`${number}: no picture, ${plan}\n`);
      return undefined;
    }
    const before = known.get(plan.key);
    if (before) return before;
    const firing = await drive(`foreseeing ${number}`, fire(plan.input(), engine), io);
    const [picture] = picturesOf(firing, plan.called, []);
    const made = {
      before: picture.before.flatMap(ringsOf),
      after: picture.after.flatMap(ringsOf),
      said: `Foreseen from its form (${plan.called}), a quick look and not measured: ${firing.verdict.text}`,
    };
    known.set(plan.key, made);
    return made;
  };
};
