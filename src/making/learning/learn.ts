import { badInput } from '../../error.ts';
import type { MakeEngine } from '../../kernel/numerics/front-engine.ts';
import type { Clay } from '../clay/clay.ts';
import { clayHistory } from '../clay/clay-history.ts';
import type { TemperatureHistory } from '../clay/temperature-history.ts';
import type { FiringProgress } from '../firing/firing.ts';
import type { Setting } from '../firing/setting.ts';
import type { Form } from '../form/form.ts';
import { type Schedule, temperatureHistory } from '../kiln/schedule.ts';
import type { Belief } from './belief.ts';
import { contradictionsIn } from './contradictions.ts';
import { generousLn, paceOf, readingsOf, referenceClay, wishFor } from './evidence.ts';
import { DEVIATIONS_80, paced, readable } from './expected.ts';
import { leanPerDegree } from './learned-hot-side.ts';
import {
  type Evidence,
  type FilmTable,
  type LearnedEntry,
  type LearningLog,
  type PieceEvidence,
  type PredictedReading,
  standingEntries,
} from './learning-log.ts';
import { pieceFilm } from './piece-film.ts';
import { posterior } from './posterior.ts';
import { type Interval, predictedReading } from './predict.ts';
import type { Measured, UnloadedPiece, Unloading } from './unloading.ts';

/** One update of what is believed: from an unloading or a test piece to a log that is one entry longer. */

/** The present belief, from the log alone. */
export const beliefNow = (log: LearningLog): Belief =>
  posterior(
    log.start,
    standingEntries(log).map((e) => e.evidence),
  );

/** Name of an entry, and the day it is made. */
export interface Stamp {
  readonly id: string;
  /** YYYY-MM-DD */
  readonly date: string;
  /** File or name of what is learned from. */
  readonly from: string;
}

/** What an unloading's file names stand for. */
export interface Kit {
  readonly clay: Clay;
  readonly schedule: Schedule;
  readonly form: (file: string) => Form;
  readonly setting: (file: string) => Setting;
}

export interface Learned {
  readonly log: LearningLog;
  readonly entry: LearnedEntry;
}

const checkStamp = (log: LearningLog, { id, from }: Stamp): void => {
  if (log.entries.some((e) => e.id === id))
    throw badInput('id', id, 'another id than those already in the log');
  if (standingEntries(log).some((e) => e.from === from))
    throw badInput('from', from, 'something not yet learned from; take that entry back first');
};

const checkClay = (log: LearningLog, clay: Clay): void => {
  if (clay.name !== log.clay)
    throw badInput('clay.name', clay.name, `the clay this log is about, ${JSON.stringify(log.clay)}`);
};

const intervalsOf = (evidence: Evidence, before: Belief, after: Belief): PredictedReading[] =>
  evidence.pieces.flatMap((p) =>
    readable(p.film, p.readings).map((r) => ({
      piece: p.number,
      attitude: p.attitude,
      key: r.key,
      measured_mm: r.value_mm,
      before: short(predictedReading(p.film, evidence.pace, before, evidence.kiln, r)),
      after: short(predictedReading(p.film, evidence.pace, after, evidence.kiln, r)),
    })),
  );

const short = ({ low_mm, middle_mm, high_mm }: Interval): Interval => {
  const figures = (x: number): number => Number(x.toFixed(3));
  return { low_mm: figures(low_mm), middle_mm: figures(middle_mm), high_mm: figures(high_mm) };
};

const added = (
  log: LearningLog,
  stamp: Stamp,
  kind: LearnedEntry['kind'],
  what: string,
  evidence: Evidence,
): Learned => {
  const standing = standingEntries(log).map((e) => e.evidence);
  const before = posterior(log.start, standing);
  const after = posterior(log.start, [...standing, evidence]);
  const entry: LearnedEntry = {
    ...stamp,
    kind,
    what,
    evidence,
    before,
    after,
    predictions: intervalsOf(evidence, before, after),
    contradictions: contradictionsIn(evidence, after),
  };
  return { log: { ...log, entries: [...log.entries, entry] }, entry };
};

const wholeSetting = (piece: UnloadedPiece, kit: Kit): Setting =>
  typeof piece.setting === 'string' ? kit.setting(piece.setting) : piece.setting;

const told = (unloading: Unloading): string => {
  const measured = unloading.pieces.filter((p) => p.measured).length;
  const lost = unloading.pieces.filter((p) => p.loss).length;
  const pieces = `${measured} measured ${measured === 1 ? 'piece' : 'pieces'}`;
  return `${unloading.name}: ${pieces}${lost > 0 ? `, ${lost} lost` : ''}, from ${unloading.kiln}`;
};

/** What lies down or leans on something says nothing of a hot side by how it leans. */
const STANDS: ReadonlySet<string> = new Set(['upright', 'rim down']);

const leanSeen = ({ lean, plusMinus_mm }: Measured, perDegree_mm: number): Pick<PieceEvidence, 'lean'> =>
  lean ? { lean: { ...lean, plusMinus_mm, perDegree_mm: Number(perDegree_mm.toPrecision(4)) } } : {};

/** Pieces of one form that stood alike: one film serves them all. */
interface Alike {
  readonly setting: Setting;
  readonly members: UnloadedPiece[];
}

const alike = (unloading: Unloading, kit: Kit): Alike[] => {
  const groups = new Map<string, Alike>();
  for (const piece of unloading.pieces) {
    const setting = wholeSetting(piece, kit);
    const key = JSON.stringify([piece.form, setting, piece.measured?.outline?.from_deg ?? 0]);
    const group = groups.get(key) ?? { setting, members: [] };
    group.members.push(piece);
    groups.set(key, group);
  }
  return [...groups.values()];
};

const onlyKeys = (film: FilmTable, keys: readonly string[]): FilmTable => {
  const kept = <T>(record: Readonly<Record<string, T>>): Record<string, T> =>
    Object.fromEntries(keys.map((key) => [key, record[key]]));
  return { ...film, readings: kept(film.readings), levers: kept(film.levers) };
};

const evidenceOf = (piece: UnloadedPiece, { attitude }: Setting, film: FilmTable): PieceEvidence => ({
  number: piece.number,
  form: piece.form,
  attitude,
  film,
  ...(piece.loss && { loss: piece.loss.cause }),
  readings: readingsOf(piece.measured, film),
});

/**
 * Learns from an unloading: one coarse run for each form and way of standing, then sums. Each `next()` is one step of a run.
 * @param kit.clay the clay as its file now is; softness is counted from the log's own reference all the same
 * @returns the log with one entry more; `log` itself is untouched
 * @throws AfterfireError `bad-input` where the unloading is of another clay, was learned from already, or a piece cannot
 *   stand as it is said to have stood
 */
export function* learnFromUnloading(
  log: LearningLog,
  unloading: Unloading,
  kit: Kit,
  stamp: Stamp,
  engine?: MakeEngine,
): Generator<FiringProgress, Learned, void> {
  checkStamp(log, stamp);
  checkClay(log, kit.clay);
  const clay = referenceClay(kit.clay, log);
  const heat = temperatureHistory(kit.schedule);
  const history = clayHistory(clay, heat);
  const pace = paceOf(clay, heat);
  const mostLn = generousLn(log, pace);
  const groups = alike(unloading, kit);
  const before = beliefNow(log);
  const off_K = before.kilns.find((k) => k.name === unloading.kiln)?.mean_K ?? 0;
  const lnClock = before.softness.mean + paced(pace)(off_K);
  const pieces = new Map<string, PieceEvidence>();
  for (const [i, { members, setting }] of groups.entries()) {
    const wishes = members.map((p) => wishFor(p.measured));
    const wish = { keys: [...new Set(wishes.flatMap((w) => w.keys))], from_deg: wishes[0].from_deg };
    const input = { form: kit.form(members[0].form), clay, schedule: kit.schedule, setting };
    const run = pieceFilm(input, history, mostLn, wish, engine);
    let r = run.next();
    for (; !r.done; r = run.next())
      yield {
        fraction: (i + r.value.fraction) / groups.length,
        note: `${members.length > 1 ? 'pieces' : 'piece'} ${members.map((p) => p.number).join(', ')}`,
      };
    const leans = STANDS.has(setting.attitude) && members.some((p) => p.measured?.lean);
    const perDegree_mm = leans ? yield* leanPerDegree(input, history, lnClock, engine) : 0;
    for (const [k, p] of members.entries())
      pieces.set(p.number, {
        ...evidenceOf(p, setting, onlyKeys(r.value, wishes[k].keys)),
        ...(leans && p.measured?.lean && leanSeen(p.measured, perDegree_mm)),
      });
  }
  const { offset } = unloading;
  return added(log, stamp, 'unloading', told(unloading), {
    kiln: unloading.kiln,
    pace,
    pieces: unloading.pieces.map((p) => pieces.get(p.number) as PieceEvidence),
    ...(offset && {
      offset: { mean_K: offset.hotter_C, sd_K: offset.plusMinus_C / DEVIATIONS_80 },
    }),
  });
}

/** What a test piece, or witness cones by themselves, say of one firing. */
export interface TestPiece {
  readonly kiln: string;
  /** In a sentence, to show as it is. */
  readonly what: string;
  /** Sag viscosity at the reference's own temperature, were the kiln not off, and the factor within which it lies four times in five. */
  readonly viscosity?: { readonly value_Pa_s: number; readonly factor80: number };
  readonly offset?: { readonly hotter_K: number; readonly plusMinus80_K: number };
}

/**
 * Learns from a test piece.
 * @throws AfterfireError `bad-input` for another clay, or what was learned from already
 */
export const learnFromTestPiece = (
  log: LearningLog,
  piece: TestPiece,
  clay: Clay,
  heat: TemperatureHistory,
  stamp: Stamp,
): Learned => {
  checkStamp(log, stamp);
  checkClay(log, clay);
  const { viscosity, offset } = piece;
  return added(log, stamp, 'test piece', piece.what, {
    kiln: piece.kiln,
    pace: paceOf(referenceClay(clay, log), heat),
    pieces: [],
    ...(viscosity && {
      softness: {
        mean: Math.log(log.reference.value_Pa_s / viscosity.value_Pa_s),
        sd: Math.log(viscosity.factor80) / DEVIATIONS_80,
      },
    }),
    ...(offset && { offset: { mean_K: offset.hotter_K, sd_K: offset.plusMinus80_K / DEVIATIONS_80 } }),
  });
};

/** The last entry from something an earlier one, that also counts, was learned from. */
const countedTwice = (log: LearningLog): LearnedEntry | undefined => {
  const standing = standingEntries(log);
  return standing.findLast((e, i) => standing.findIndex(({ from }) => from === e.from) < i);
};

/**
 * Takes an entry back; taking back a taking back restores it. Nothing is deleted.
 * @throws AfterfireError `bad-input` where there is no such entry, it is taken back already, or what it would restore was
 *   learned from anew meanwhile and would count twice
 */
export const takeBack = (
  log: LearningLog,
  entry: string,
  why: string,
  stamp: Omit<Stamp, 'from'>,
): LearningLog => {
  const found = log.entries.find((e) => e.id === entry);
  if (!found)
    throw badInput('entry', entry, `one of ${log.entries.map((e) => e.id).join(', ') || 'none yet'}`);
  if (log.entries.some((e) => e.id === stamp.id))
    throw badInput('id', stamp.id, 'another id than those already in the log');
  const before = beliefNow(log);
  const shell = { ...stamp, kind: 'taken back' as const, entry, what: why, before };
  const longer = { ...log, entries: [...log.entries, { ...shell, after: before }] };
  if (standingEntries(longer).length === standingEntries(log).length)
    throw badInput('entry', entry, 'an entry that still counts');
  const twice = countedTwice(longer);
  if (twice)
    throw badInput(
      'entry',
      entry,
      `an entry whose evidence does not count by another already: take back ${twice.id}, from ${twice.from}, first`,
    );
  return { ...log, entries: [...log.entries, { ...shell, after: beliefNow(longer) }] };
};
