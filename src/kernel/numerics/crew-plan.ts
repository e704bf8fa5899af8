import type { FrontPlan } from './front-plan.ts';

/**
 * How several threads share one factorisation: the elimination tree is cut into branches nobody else touches, each
 * done by one thread, and the few parts above them, done by all together. Every branch builds its border blocks on a
 * stack of its own; the parts above keep theirs until the end.
 */
export interface CrewPlan {
  /** First and last part of each branch (parts stand in post-order), the costliest first. */
  readonly branchFirst: Int32Array;
  readonly branchLast: Int32Array;
  /** Parts above the branches, children before parents. */
  readonly above: Int32Array;
  /** Where each part's border block is built and where it then rests, in numbers from the start of the stack. */
  readonly buildAt: Int32Array;
  readonly restAt: Int32Array;
  readonly stackLength: number;
  /** Children of part s: child[childStart[s] .. childStart[s + 1]). */
  readonly childStart: Int32Array;
  readonly child: Int32Array;
}

/** A branch costs at most this share of the whole: six or more of them come out even on a few threads. */
const BRANCH_SHARE = 1 / 6;

const costOf = (plan: FrontPlan, s: number): number => {
  const [p, q] = [plan.pivots[s], plan.borders[s]];
  return (p * p * p) / 3 + p * p * q + p * q * q;
};

/** Symbolic only; throws nothing. */
export const planCrew = (plan: FrontPlan): CrewPlan => {
  const { parts, parent, borders } = plan;
  const cost = new Float64Array(parts);
  const first = new Int32Array(parts);
  const childStart = new Int32Array(parts + 1);
  for (let s = 0; s < parts; s++) first[s] = s;
  for (let s = 0; s < parts; s++) {
    cost[s] += costOf(plan, s);
    const up = parent[s];
    if (up < 0) continue;
    cost[up] += cost[s];
    first[up] = Math.min(first[up], first[s]);
    childStart[up + 1]++;
  }
  for (let s = 0; s < parts; s++) childStart[s + 1] += childStart[s];
  const child = new Int32Array(childStart[parts]);
  const next = childStart.slice(0, parts);
  for (let s = 0; s < parts; s++) if (parent[s] >= 0) child[next[parent[s]]++] = s;

  const most = BRANCH_SHARE * plan.flops;
  const isBranch = (s: number): boolean => cost[s] <= most && (parent[s] < 0 || cost[parent[s]] > most);
  const roots: number[] = [];
  const above: number[] = [];
  for (let s = 0; s < parts; s++)
    if (isBranch(s)) roots.push(s);
    else if (cost[s] > most) above.push(s);
  roots.sort((a, b) => cost[b] - cost[a]);

  const buildAt = new Int32Array(parts);
  const restAt = new Int32Array(parts);
  let end = 0;
  for (const root of roots) {
    let top = end;
    let highest = end;
    for (let s = first[root]; s <= root; s++) {
      const low = childStart[s] < childStart[s + 1] ? restAt[child[childStart[s]]] : top;
      buildAt[s] = top;
      restAt[s] = low;
      highest = Math.max(highest, top + borders[s] ** 2);
      top = low + borders[s] ** 2;
    }
    end = highest;
  }
  for (const s of above) {
    buildAt[s] = restAt[s] = end;
    end += borders[s] ** 2;
  }
  return {
    branchFirst: Int32Array.from(roots, (s) => first[s]),
    branchLast: Int32Array.from(roots),
    above: Int32Array.from(above),
    buildAt,
    restAt,
    stackLength: end,
    childStart,
    child,
  };
};
