import { t90 } from '../clay/test-pieces/mean-of.ts';
import type { Belief } from './belief.ts';
import { DEVIATIONS_80 } from './expected.ts';
import { type LearningLog, standingEntries } from './learning-log.ts';
import { named } from './names.ts';
import { predictedReading } from './predict.ts';

/** How right we were: each measure against what was expected of it before it was learned from. */

export interface Compared {
  readonly entry: string;
  readonly date: string;
  readonly kiln: string;
  readonly piece: string;
  readonly form: string;
  readonly attitude: string;
  readonly key: string;
  /** To show: `greatest lip drop`. */
  readonly name: string;
  /** Whether it says how far the piece moved, or how large it is. */
  readonly about: 'movement' | 'size';
  readonly measured_mm: number;
  readonly low_mm: number;
  readonly middle_mm: number;
  readonly high_mm: number;
  readonly inside: boolean;
}

/** What one kind of piece or one kiln comes out like, measured less predicted. */
export interface Bias {
  readonly group: string;
  readonly about: Compared['about'];
  readonly measures: number;
  readonly pieces: number;
  readonly mean_mm: number;
  /** The mean is known to this, four times in five; infinite for a single piece. */
  readonly plusMinus_mm: number;
  readonly inside: number;
  readonly text: string;
}

export interface HowRight {
  readonly rows: readonly Compared[];
  readonly pieces: number;
  /** Share of the measures inside their interval; 0.8 was promised. NaN where there are none. */
  readonly inside: number;
  /** What a share promised to be 0.8 comes out between, four times in five, over so many pieces. */
  readonly due: readonly [number, number];
  readonly byAttitude: readonly Bias[];
  readonly byKiln: readonly Bias[];
  /** A sentence or two, to show as they are. */
  readonly text: string;
}

const PROMISED = 0.8;
const MOVEMENT = /^(drop|lip oval)/;

const rowsOf = (log: LearningLog): Compared[] =>
  standingEntries(log).flatMap((entry) => {
    const forms = new Map(entry.evidence.pieces.map((p) => [p.number, p.form]));
    return entry.predictions.map((p) => ({
      entry: entry.id,
      date: entry.date,
      kiln: entry.evidence.kiln,
      piece: p.piece,
      form: forms.get(p.piece) ?? '',
      attitude: p.attitude,
      key: p.key,
      name: named(p.key),
      about: MOVEMENT.test(p.key) ? ('movement' as const) : ('size' as const),
      measured_mm: p.measured_mm,
      ...p.before,
      inside: p.measured_mm >= p.before.low_mm && p.measured_mm <= p.before.high_mm,
    }));
  });

const pieceOf = (r: Compared): string => `${r.entry}/${r.piece}`;

const grouped = <T>(list: readonly T[], by: (item: T) => string): Map<string, T[]> => {
  const groups = new Map<string, T[]>();
  for (const item of list) groups.set(by(item), [...(groups.get(by(item)) ?? []), item]);
  return groups;
};

const mean = (x: readonly number[]): number => x.reduce((a, b) => a + b, 0) / x.length;

const biasOf = (group: string, about: Compared['about'], rows: readonly Compared[]): Bias => {
  // Measures of one piece err together: a piece counts once.
  const each = [...grouped(rows, pieceOf).values()].map((own) =>
    mean(own.map((r) => r.measured_mm - r.middle_mm)),
  );
  const mean_mm = mean(each);
  const square = each.reduce((sum, x) => sum + (x - mean_mm) ** 2, 0);
  const n = each.length;
  const plusMinus_mm = n > 1 ? t90(n - 1) * Math.sqrt(square / (n - 1) / n) : Number.POSITIVE_INFINITY;
  const inside = rows.filter((r) => r.inside).length / rows.length;
  return {
    group,
    about,
    measures: rows.length,
    pieces: n,
    mean_mm,
    plusMinus_mm,
    inside,
    text: biasText(group, about, n, mean_mm, plusMinus_mm),
  };
};

const biasText = (
  group: string,
  about: Compared['about'],
  pieces: number,
  mean_mm: number,
  plusMinus_mm: number,
): string => {
  const of = about === 'movement' ? 'move' : 'come out';
  if (pieces < 3) return `${group}: ${pieces} ${pieces === 1 ? 'piece' : 'pieces'}, too few to tell.`;
  const told = `${Math.abs(mean_mm).toFixed(1)} mm (±${plusMinus_mm.toFixed(1)})`;
  // Twice the 80 % half width, for no bias at all: one chance in a hundred of many pieces, 4 of five, 6 of three (Student's t).
  if (Math.abs(mean_mm) < 2 * plusMinus_mm) return `${group}: no bias to speak of, ${told}.`;
  const more = about === 'movement' ? (mean_mm > 0 ? 'more' : 'less') : mean_mm > 0 ? 'larger' : 'smaller';
  return `${group}: they ${of} ${told} ${more} than predicted.`;
};

const biases = (rows: readonly Compared[], by: (r: Compared) => string): Bias[] =>
  [...grouped(rows, (r) => `${by(r)}\n${r.about}`).values()].map((own) =>
    biasOf(by(own[0]), own[0].about, own),
  );

/** Measures of one piece hang together: the share is as sure as that many pieces make it. */
const dueFor = (pieces: number): [number, number] => {
  const off = DEVIATIONS_80 * Math.sqrt((PROMISED * (1 - PROMISED)) / Math.max(1, pieces));
  return [Math.max(0, PROMISED - off), Math.min(1, PROMISED + off)];
};

const FEWEST = 5;

const textOf = (rows: readonly Compared[], pieces: number, biased: readonly Bias[]): string => {
  if (rows.length === 0) return 'Nothing measured yet.';
  const hits = rows.filter((r) => r.inside).length;
  const share = hits / rows.length;
  const [low, high] = dueFor(pieces);
  const head = `${hits} of ${rows.length} measures on ${pieces} ${pieces === 1 ? 'piece' : 'pieces'} came out where they were expected four times in five (${(100 * share).toFixed(0)} %)`;
  const how =
    pieces < FEWEST
      ? 'too few pieces to judge by'
      : share < low
        ? 'we were surer than we had a right to be'
        : share > high
          ? 'we could have been surer'
          : 'about as sure as we said';
  const worst = biased
    .filter((b) => b.pieces >= 3 && Math.abs(b.mean_mm) >= 2 * b.plusMinus_mm)
    .sort((a, b) => Math.abs(b.mean_mm) - Math.abs(a.mean_mm))[0];
  return `${head}: ${how}.${worst ? ` Most off: ${worst.text}` : ''}`;
};

/** All pieces measured so far, as far as their entries still count. */
export const howRight = (log: LearningLog): HowRight => {
  const rows = rowsOf(log);
  const pieces = new Set(rows.map(pieceOf)).size;
  const byAttitude = biases(rows, (r) => r.attitude);
  const byKiln = biases(rows, (r) => r.kiln);
  return {
    rows,
    pieces,
    inside: rows.length === 0 ? Number.NaN : rows.filter((r) => r.inside).length / rows.length,
    due: dueFor(pieces),
    byAttitude,
    byKiln,
    text: textOf(rows, pieces, [...byAttitude, ...byKiln]),
  };
};

/** What was known after an entry. */
export interface Known {
  /** Left out for the start. */
  readonly entry?: string;
  readonly date?: string;
  readonly what: string;
  /** The clay's softness is known within this factor, four times in five. */
  readonly factor80: number;
  readonly kilns: readonly {
    readonly name: string;
    readonly mean_K: number;
    readonly plusMinus80_K: number;
  }[];
  /** Half width of the interval of how far pieces move, median over all pieces of the log, mm: what predictions tightened to. */
  readonly movement_mm: number;
}

/** How predictions tightened: the same pieces, as they would have been predicted at the start and after each entry. */
export const tightened = (log: LearningLog): Known[] => {
  const standing = standingEntries(log);
  const half = (belief: Belief): number => {
    const all = standing
      .flatMap(({ evidence }) =>
        evidence.pieces.flatMap((p) =>
          p.readings
            .filter((r) => MOVEMENT.test(r.key) && p.film.readings[r.key] !== undefined)
            .map((r) => {
              const at = predictedReading(p.film, evidence.pace, belief, evidence.kiln, r);
              return (at.high_mm - at.low_mm) / 2;
            }),
        ),
      )
      .sort((a, b) => a - b);
    return all.length === 0 ? Number.NaN : all[(all.length - 1) >> 1];
  };
  const known = (what: string, belief: Belief): Known => ({
    what,
    factor80: Math.exp(DEVIATIONS_80 * belief.softness.sd),
    kilns: belief.kilns.map((k) => ({
      name: k.name,
      mean_K: k.mean_K,
      plusMinus80_K: DEVIATIONS_80 * k.sd_K,
    })),
    movement_mm: half(belief),
  });
  return [
    known('before anything was learned', log.start),
    ...log.entries.map((e) => ({ ...known(e.what, e.after), entry: e.id, date: e.date })),
  ];
};
