import { B } from '../numerics/block-matrix.ts';
import type { Column } from '../numerics/compliance-way.ts';
import { searchCondensed } from './condensed.ts';
import { type ContactSearch, type Contacts, searchContacts } from './contact.ts';
import {
  MOST_ROUNDS,
  MOST_RUBS,
  MOST_SEARCHES,
  MOST_STANDING,
  PULL,
  ROUGH,
  SPEED_SLACK,
  SPRING,
  WORTH_CONDENSING,
} from './contact-tolerances.ts';
import { type Rubbing, rub } from './friction.ts';
import { type LaggedSolver, solveLagged } from './lagged.ts';
import type { Load } from './load.ts';
import type { RateLaw } from './soft-shape.ts';
import { addSpring, along, ownStiffness } from './spring.ts';
import { addToDiagonal } from './system.ts';

/** How often the drag may be made a hundredfold where the system cannot be factored. */
const MORE_DRAG = 3;

/** One solve's numbers, in elimination order and along the nodes' own axes where nothing else is said. */
export interface Work {
  readonly solver: LaggedSolver;
  readonly law: RateLaw;
  readonly contacts: Contacts;
  readonly rubbing: Rubbing | undefined;
  readonly load: Load;
  /** Drag on each node, mesh order. */
  readonly drag: Float64Array;
  /** Speeds the drag leaves alone, 3 × nodes, global axes. */
  readonly calm: Float64Array | undefined;
  /** Load and the pull of supports that slide along. */
  readonly right: Float64Array;
  /** What the links push with (and their springs, held at the bound). */
  readonly linkForce: Float64Array;
  /** Springs in the matrix under links that push, so that what stands on links alone is not loose: link, stiffness. */
  readonly springs: { readonly link: number; readonly k: number }[];
  readonly x: Float64Array;
  readonly reaction: Float64Array;
  /** law.held in elimination order. */
  readonly base: Uint8Array;
  readonly columns: readonly Column[];
  /** Nodes that rested in the guess. */
  readonly guessed: Uint8Array;
  readonly support: Float64Array;
}

/** Whether the shelf holds a node sideways. */
export const grips = (w: Work, n: number): boolean =>
  w.law.shelf === 'grips' && !w.rubbing && w.contacts.on[n] === 0;

/**
 * Finds what rests by condensing; false leaves the search to the rounds. A foot of more nodes than can be condensed is
 * held as it rests, and only links and what else may land are sought; the rounds then let go what pulls.
 */
const condense = (w: Work, search: ContactSearch): boolean => {
  const { contacts, solver, x } = w;
  const s = solver.system;
  const bound = new Float64Array(s.nodes);
  const held = w.base.slice();
  for (let i = 0; i < held.length; i++) if (held[i]) x[i] = 0;
  const standing: number[] = [];
  for (let n = 0; n < s.nodes; n++) {
    const i = s.rank[n];
    bound[i] = contacts.bound_m_s[n];
    if (w.guessed[n] && !held[B * i + 2]) standing.push(i);
    // A gripping shelf holds sideways what rested at the start of the step.
    if (!grips(w, n) || !w.guessed[n]) continue;
    held[B * i] = held[B * i + 1] = 1;
    x[B * i] = x[B * i + 1] = 0;
  }
  const many = standing.length > MOST_STANDING;
  if (many && w.columns.length === 0) return false;
  if (many)
    for (const i of standing) {
      held[B * i + 2] = 1;
      x[B * i + 2] = bound[i];
    }
  const pushing: number[] = [];
  contacts.links.forEach((l, j) => {
    if (contacts.pushing.has(l.key) && w.columns[j].at.length > 0) pushing.push(j);
  });
  dropSprings(w);
  const found = searchCondensed(solver, {
    force: w.right,
    held,
    x,
    resting: many ? [] : standing,
    heldUp: many,
    bound,
    links: w.columns,
    linkBound: contacts.linkBound_m_s,
    pushing,
    standing: Uint8Array.from(contacts.links, (l) => (l.on >= 0 ? 1 : 0)),
    residual: w.law.residual,
  });
  if (!found) return false;
  contacts.resting.fill(0);
  for (const i of many ? standing : []) contacts.resting[s.order[i]] = 1;
  for (const i of found.resting) contacts.resting[s.order[i]] = 1;
  search.released.fill(0);
  search.admitted.set(contacts.bound_m_s.map((b) => Math.max(0, b)));
  contacts.pushing.clear();
  contacts.links.forEach((l, j) => {
    if (!(found.push[j] > 0)) return;
    contacts.pushing.set(l.key, found.push[j]);
    if (l.on < 0) return;
    const k = SPRING * ownStiffness(s.matrix, w.columns[j]);
    addSpring(s.matrix, w.columns[j], k);
    w.springs.push({ link: j, k });
  });
  pushLinks(w);
  return true;
};

const dropSprings = (w: Work): void => {
  for (const { link, k } of w.springs) addSpring(w.solver.system.matrix, w.columns[link], -k);
  w.springs.length = 0;
};

/** Leaves in `linkForce` what the links push with and nothing else; the matrix is not to be used any more. */
export const finishLinks = (w: Work): void => {
  w.springs.length = 0;
  pushLinks(w);
};

/** Puts the links' pushes and what holds their springs at the bound in `linkForce`. */
const pushLinks = (w: Work): void => {
  w.linkForce.fill(0);
  const add = (j: number, force: number): void =>
    w.columns[j].at.forEach((u, e) => {
      w.linkForce[u] += w.columns[j].value[e] * force;
    });
  w.contacts.links.forEach((l, j) => {
    const push = w.contacts.pushing.get(l.key);
    if (push !== undefined) add(j, push);
  });
  for (const { link, k } of w.springs) add(link, k * w.contacts.linkBound_m_s[link]);
};

/** What a link with a spring has been pushing in truth: the push it was given, less what the spring took back. */
const springsTruly = (w: Work): void => {
  for (const { link, k } of w.springs) {
    const { key } = w.contacts.links[link];
    const off = along(w.columns[link], w.x) - w.contacts.linkBound_m_s[link];
    w.contacts.pushing.set(key, (w.contacts.pushing.get(key) ?? 0) - k * off);
  }
  pushLinks(w);
};

/** Whether the wall goes through a link that was not taken up, or one pulls. */
const linksFail = (w: Work, slack: number, pull: number): boolean =>
  w.springs.some(({ link }) => (w.contacts.pushing.get(w.contacts.links[link].key) ?? 0) < -pull) ||
  w.columns.some((c, j) => {
    const v = along(c, w.x);
    const bound = w.contacts.linkBound_m_s[j];
    return c.at.length > 0 && v < bound - slack - 2e-3 * Math.abs(bound);
  });

/** Fills the mask of what is held with the present supports, and x where it is prescribed. */
const hold = (w: Work, held: Uint8Array): void => {
  const s = w.solver.system;
  held.set(w.base);
  for (let i = 0; i < held.length; i++) if (held[i]) w.x[i] = 0;
  for (let n = 0; n < s.nodes; n++) {
    const i = B * s.rank[n];
    if (!w.contacts.resting[n] || w.base[i + 2]) continue;
    held[i + 2] = 1;
    w.x[i + 2] = w.contacts.bound_m_s[n];
    if (grips(w, n)) {
      held[i] = held[i + 1] = 1;
      w.x[i] = w.x[i + 1] = 0;
    }
  }
};

/** Solves with the present supports; a piece on few points slides and rolls but for the drag: where that drowns, add. */
const solveHere = (
  w: Work,
  held: Uint8Array,
  tolerance: number,
  factorIs: 'aged' | 'fresh' | 'near',
): boolean => {
  const s = w.solver.system;
  const force = w.contacts.links.length > 0 ? w.right.map((f, i) => f + w.linkForce[i]) : w.right;
  const q = { force, held, x: w.x, reaction: w.reaction };
  let ok = solveLagged(w.solver, q, tolerance, factorIs);
  for (let more = 0; !ok && more < MORE_DRAG; more++) {
    for (let n = 0; n < s.nodes; n++) w.drag[n] *= 99;
    addToDiagonal(s, w.drag);
    for (let n = 0; n < s.nodes; n++) w.drag[n] *= 100 / 99;
    ok = solveLagged(w.solver, q, tolerance, 'aged');
  }
  if (w.springs.length > 0) springsTruly(w);
  return ok;
};

/** What presses each node on its support: its own reaction, and its share of what holds an obstacle out of a triangle. */
const setPush = (w: Work, out: Float64Array, reaction: Float64Array): void => {
  const { links, pushing, resting } = w.contacts;
  for (let n = 0; n < out.length; n++) out[n] = resting[n] ? Math.max(0, reaction[n]) : 0;
  for (const l of links) {
    const push = pushing.get(l.key) ?? 0;
    if (l.on < 0 || l.nodes.length === 1 || push <= 0) continue;
    l.nodes.forEach((n, k) => {
      out[n] += push * Math.hypot(...l.direction.slice(3 * k, 3 * k + 3));
    });
  }
};

/** Rounds of solving, changing supports and rubbing until nothing changes. */
export const settle = (w: Work, restless: boolean): boolean => {
  const { contacts, solver, load, rubbing } = w;
  const s = solver.system;
  const nodes = s.nodes;
  const held = new Uint8Array(B * nodes);
  const speed = new Float64Array(nodes);
  const push = new Float64Array(nodes);
  const contact = contacts.links.length > 0 || contacts.on.some((o) => o >= 0);
  const search: ContactSearch = {
    resting: contacts.resting,
    bound: contacts.bound_m_s,
    admitted: contacts.bound_m_s.map((b) => Math.max(0, b)),
    released: new Uint8Array(nodes),
  };
  let searches = 0;
  const trySearch = (): boolean => searches++ < MOST_SEARCHES && condense(w, search);
  // Where contacts have just been changing they are likely to change again; and links are only found this way.
  let condensed = contact && (restless || contacts.pushing.size > 0) && trySearch();
  let settled = false;
  let rubs = 0;
  const pull = (PULL * load.total_N) / Math.sqrt(nodes);
  for (let round = 1; ; round++) {
    hold(w, held);
    const tolerance = settled || !contact ? w.law.residual : Math.max(w.law.residual, ROUGH);
    const ok = solveHere(w, held, tolerance, condensed ? 'near' : round === 1 ? 'aged' : 'fresh');
    let typical = 0;
    for (let n = 0; n < nodes; n++) {
      const i = B * s.rank[n];
      speed[n] = w.x[i + 2];
      push[n] = w.reaction[i + 2];
      typical = Math.max(typical, Math.abs(w.x[i]), Math.abs(w.x[i + 1]), Math.abs(w.x[i + 2]));
    }
    if (!contact || !ok) return ok;
    const slack = SPEED_SLACK * typical;
    const changed = searchContacts(search, speed, push, pull, slack);
    const through = w.columns.length > 0 && linksFail(w, slack, pull);
    const again = (changed >= WORTH_CONDENSING || through) && trySearch();
    if (changed > 0 || again) condensed = again;
    if (round >= MOST_ROUNDS) return true;
    const quiet = changed === 0 && !again;
    if (quiet) {
      if (rubbing) {
        setPush(w, rubbing.push_N, push);
        if (rubs++ < MOST_RUBS && rub(rubbing, s, w.x, w.support, w.right)) {
          condensed = true;
          continue;
        }
      }
      if (settled) return true;
    }
    settled = quiet;
  }
};
