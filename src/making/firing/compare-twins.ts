import type { MakeEngine } from '../../kernel/numerics/front-engine.ts';
import { fire } from './fire.ts';
import type { Firing, FiringInput, FiringProgress, Verdict } from './firing.ts';
import { plainTwin } from './plain-twin.ts';

/** What corrugation did to a piece: its sag beside that of its plain twin, both through the same fire. */
export interface TwinComparison {
  /** What the plain twin lacks, e.g. `lobes`. */
  readonly without: string;
  /** What drops: the lip, or rim down the top. */
  readonly part: 'lip' | 'top';
  readonly drop_m: number;
  readonly plainDrop_m: number;
  /** The plain twin's over this one's: above 1 the corrugation holds it up. NaN where one of them fell. */
  readonly dropRatio: number;
  readonly greatestSag_m: number;
  readonly plainGreatestSag_m: number;
  readonly greatestSagRatio: number;
  /** Clay of this one more than the plain one's, as a share of that. */
  readonly moreClay: number;
  /** Whether the difference in drop is more than the calculation may be off by. */
  readonly certain: boolean;
  /** A sentence or two, to show as it is. */
  readonly text: string;
}

/** Verdicts after which sizes no longer say how stiff a wall was. */
const GONE: readonly Verdict['kind'][] = ['falls-over', 'keeps-falling', 'wall-on-wall', 'rim-on-shelf'];
/** Ratios this near to 1 are told as no difference. */
const SAME = 0.03;

const mm = (l_m: number): string => {
  const v = 1000 * l_m;
  return `${Math.abs(v) < 9.95 ? v.toFixed(Math.abs(v) < 0.95 ? 2 : 1) : v.toFixed(0)} mm`;
};

const clayTold = (more: number): string => {
  const percent = 100 * Math.abs(more);
  return percent < 0.5
    ? 'for the same clay'
    : `for ${percent.toFixed(0)} % ${more > 0 ? 'more' : 'less'} clay`;
};

/** What a ratio above 1 says of something taken away. */
const shareTold = (ratio: number): string =>
  ratio >= 1.8
    ? `it drops ${ratio.toFixed(1)} times less`
    : `it drops ${Math.round(100 * (1 - 1 / ratio))} % less`;

const tell = (c: Omit<TwinComparison, 'text'>): string => {
  const facts = `The ${c.part} drops ${mm(c.drop_m)}, that of the plain twin ${mm(c.plainDrop_m)}`;
  if (Math.abs(Math.log(c.dropRatio)) < SAME || !c.certain)
    return `${facts}: no difference to speak of, ${clayTold(c.moreClay)}.`;
  if (c.dropRatio > 1)
    return `${facts}: with its ${c.without} ${shareTold(c.dropRatio)}, ${clayTold(c.moreClay)}.`;
  const more = 1 / c.dropRatio;
  const told = more >= 1.8 ? `${more.toFixed(1)} times as much` : `${Math.round(100 * (more - 1))} % more`;
  return `${facts}: its ${c.without} make it softer here, it drops ${told}, ${clayTold(c.moreClay)}.`;
};

const tellFallen = (piece: Firing, plain: Firing, without: string): string => {
  const [one, other] = [piece, plain].map((f) => GONE.includes(f.verdict.kind));
  if (one && other)
    return `Neither holds, with or without its ${without}. This one: ${piece.verdict.text} The plain twin: ${plain.verdict.text}`;
  if (other) return `Its ${without} hold it up: the plain twin does not come through. ${plain.verdict.text}`;
  return `Its ${without} do it no good here: the plain twin comes through, this one does not. ${piece.verdict.text}`;
};

/**
 * Sag against sag of a piece and its plain twin, both fired with the same clay, heat, setting and care.
 * @param without what the twin lacks (see `plainTwin`)
 */
export const compareTwins = (piece: Firing, plain: Firing, without: string): TwinComparison => {
  const part = piece.input.setting.attitude === 'rim down' ? 'top' : 'lip';
  const key = part === 'top' ? 'topDrop_m' : 'lipDrop_m';
  const [drop, plainDrop] = [piece.estimates[key], plain.estimates[key]];
  const fell = [piece, plain].some((f) => GONE.includes(f.verdict.kind));
  const [sag, plainSag] = [piece.estimates.greatestSag_m.value, plain.estimates.greatestSag_m.value];
  const ratio = (a: number, b: number): number => (fell || !(a > 0) || !(b > 0) ? Number.NaN : a / b);
  const off = Math.hypot(drop.numerical || 0, plainDrop.numerical || 0);
  const facts = {
    without,
    part,
    drop_m: drop.value,
    plainDrop_m: plainDrop.value,
    dropRatio: ratio(plainDrop.value, drop.value),
    greatestSag_m: sag,
    plainGreatestSag_m: plainSag,
    greatestSagRatio: ratio(plainSag, sag),
    moreClay: piece.dryMeasures.weight_kg / plain.dryMeasures.weight_kg - 1,
    certain: !fell && Math.abs(drop.value - plainDrop.value) > off,
  } as const;
  if (fell) return { ...facts, text: tellFallen(piece, plain, without) };
  if (Number.isNaN(facts.dropRatio))
    return { ...facts, text: `Neither the ${part} nor that of the plain twin drops to speak of.` };
  return { ...facts, text: tell(facts) };
};

export interface Twins {
  readonly piece: Firing;
  readonly plain: Firing;
  readonly comparison: TwinComparison;
}

const PART = { piece: [0, 0.5], plain: [0.5, 1] } as const;

function* part(
  input: FiringInput,
  which: keyof typeof PART,
  engine: MakeEngine | undefined,
): Generator<FiringProgress, Firing, void> {
  const [from, to] = PART[which];
  const run = fire(input, engine);
  for (let r = run.next(); ; r = run.next()) {
    if (r.done) return r.value;
    const note = which === 'plain' ? `plain twin: ${r.value.note}` : r.value.note;
    yield { ...r.value, fraction: from + (to - from) * r.value.fraction, note };
  }
}

/**
 * Fires a piece and its plain twin one after the other; each `next()` is one step, the caller owns the clock.
 * @param piece the piece's own firing where it is known already
 * @param engine who does the factorisations; plain TypeScript where left out
 * @returns undefined where the form has nothing to take away
 * @throws AfterfireError as `fire` does
 */
export function* fireTwins(
  input: FiringInput,
  piece?: Firing,
  engine?: MakeEngine,
): Generator<FiringProgress, Twins | undefined, void> {
  const twin = plainTwin(input.form);
  if (!twin) return undefined;
  const one = piece ?? (yield* part(input, 'piece', engine));
  const plain = yield* part({ ...input, form: twin.form }, 'plain', engine);
  return { piece: one, plain, comparison: compareTwins(one, plain, twin.without) };
}
