import type { Estimate, Trials, Verdict } from './firing.ts';
import { lengthTold } from './told.ts';

/** What the verdict is said from. */
export interface VerdictFacts {
  readonly kind: Verdict['kind'];
  /** The drop that tells most in this attitude, and of what: `the lip`, `the top`. */
  readonly part: string;
  readonly drop: Estimate;
  readonly time_s?: number;
  /** In words, e.g. `at about cone 8, 1250 °C`. */
  readonly when?: string;
  /** The film goes on to the end of the firing. */
  readonly followed: boolean;
  readonly shrinkageDone: number;
  readonly trials?: Trials | undefined;
  /** In so many trials it does not happen. */
  readonly spared: number;
}

/** Moving less than this part of its size, a piece is said to stand. */
export const STANDS_SHARE = 0.01;

const WITHIN = 'within what is not known of clay and kiln';

/** How a piece is that is spared. */
const SPARED: Partial<Record<Verdict['kind'], string>> = {
  'falls-over': 'it stands',
  'keeps-falling': 'it keeps its shape',
  'rim-on-shelf': 'it stays clear',
  'wall-on-wall': 'it stays open',
};

/** What the trials say against it, the worst of it. */
const others = ({ kind, trials, spared }: VerdictFacts): string => {
  if (!trials) return '';
  const { count } = trials;
  const happy = SPARED[kind];
  if (happy) return spared > 0 ? ` In ${spared} of ${count} trials ${WITHIN} ${happy}.` : '';
  const worse = [
    [trials.fell, 'it falls'],
    [trials.touched, 'the lip comes down to the shelf'],
    [trials.met, 'the wall meets itself'],
  ] as const;
  return worse
    .filter(([n]) => n > 0)
    .map(([n, what]) => ` But in ${n} of ${count} trials ${WITHIN} ${what}.`)
    .slice(0, 1)
    .join('');
};

/** The verdict in a sentence or two. */
export const say = (f: VerdictFacts): Verdict => {
  const when = f.when ?? '';
  const done = Math.round(100 * f.shrinkageDone);
  const moved = `${f.part} drops ${lengthTold(f.drop)} beyond shrinkage.`;
  const text: Record<Verdict['kind'], string> = {
    stands: `Stands; ${moved}`,
    sags: `Sags; ${moved}`,
    'falls-over': `Falls over ${when}.`,
    'keeps-falling': `Collapses ${when}: it loses its shape and does not come to rest.`,
    'rim-on-shelf': `The lip comes down to the shelf ${when}.`,
    'wall-on-wall': f.followed
      ? `The wall sinks until it meets itself ${when}, and rests there; ${moved}`
      : `The wall sinks until it meets itself ${when}; what happens after that is not shown.`,
    'not-fired': `Not fired: only ${done} % of its firing shrinkage is done, the wall stays porous.`,
  };
  return { kind: f.kind, text: text[f.kind] + others(f), time_s: f.time_s };
};
