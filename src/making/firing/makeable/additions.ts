import type { Form } from '../../form/form.ts';
import type { Fit } from './fit-form.ts';
import { endsOf, lengthAt, surfaceOf } from './places.ts';
import type { Target } from './target.ts';

type Alteration = Form['alterations'][number];

/** Something a hand can do after throwing that the wanted form does not have. */
export interface Addition {
  readonly alteration: Alteration;
  readonly kind: 'oval' | 'squeeze' | 'push';
}

const degrees = (rad: number): number => (rad * 180) / Math.PI;
const nearest = (value: number, step: number): number => step * Math.round(value / step);
const TURN_STEP_deg = 5;

/** Direction in which what remains is most drawn out, degrees: of the second harmonic, all heights together. */
const longDirection = ({ off_mm, places }: Fit, target: Target): number => {
  let [c, s] = [0, 0];
  off_mm.forEach((off, i) => {
    const w = target.counts[i] * off;
    c += w * Math.cos(2 * places.angle_rad[i]);
    s += w * Math.sin(2 * places.angle_rad[i]);
  });
  // Half a turn further is the same.
  return (nearest(degrees(0.5 * Math.atan2(s, c)), TURN_STEP_deg) + 180) % 180;
};

const REACHES = [0.5, 0.9, 1.4] as const;
const CANDIDATES = 160;

/** The soft bump or dent that takes most out of what remains. */
const bestPush = (fit: Fit, target: Target): Alteration | undefined => {
  const surface = surfaceOf(fit.form, target.tooFine);
  const { section } = surface;
  const ends = endsOf(section);
  const line_mm = section.outer.length[section.outer.length.length - 1];
  const n = fit.off_mm.length;
  const along = new Float64Array(n);
  const radius = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const s = lengthAt(fit.places, ends, i);
    const at = section.length.findIndex((l) => l >= s - 1e-9);
    along[i] = section.along[Math.max(0, at)];
    radius[i] = surface.radius(s);
  }
  const wall = Array.from({ length: n }, (_, i) => i).filter((i) => radius[i] > 3 && along[i] > 0.1);
  const step = Math.max(1, Math.floor(wall.length / CANDIDATES));
  let best: { readonly gain: number; readonly push: Alteration } | undefined;
  for (let c = 0; c < wall.length; c += step) {
    const at = wall[c];
    for (const share of REACHES) {
      const reach = share * radius[at];
      let [match, size] = [0, 0];
      for (const i of wall) {
        const turn = fit.places.angle_rad[i] - fit.places.angle_rad[at];
        const wrapped = turn - 2 * Math.PI * Math.round(turn / (2 * Math.PI));
        const away = Math.hypot(radius[i] * wrapped, line_mm * (along[i] - along[at])) / reach;
        if (away >= 1) continue;
        const k = (1 - away * away) ** 3;
        match += target.counts[i] * k * fit.off_mm[i];
        size += target.counts[i] * k * k;
      }
      const gain = size > 0 ? (match * match) / size : 0;
      if (gain <= (best?.gain ?? 0)) continue;
      best = {
        gain,
        push: {
          kind: 'push',
          angle_deg: nearest(degrees(fit.places.angle_rad[at]), TURN_STEP_deg) % 360,
          along: nearest(along[at] * 20, 1) / 20,
          reach_mm: Math.max(10, nearest(reach, 5)),
          depth_mm: 0,
        },
      };
    }
  }
  return best?.push;
};

/** What might be added to a fitted form, each with nothing done yet. */
export const additionsTo = (fit: Fit, target: Target): Addition[] => {
  const turn_deg = longDirection(fit, target);
  const push = bestPush(fit, target);
  const ovalTurns = fit.form.alterations.flatMap((a) => (a.kind === 'oval' ? [a.turn_deg] : []));
  const squeezed = fit.form.alterations.some((a) => a.kind === 'lobes' && a.count === 2);
  return [
    ...(ovalTurns.length === 0
      ? [{ kind: 'oval', alteration: { kind: 'oval', longer_percent: 0, turn_deg } } as const]
      : []),
    ...(squeezed
      ? []
      : [
          {
            kind: 'squeeze',
            alteration: {
              kind: 'lobes',
              count: 2,
              depth: [0, 0.5, 1].map((along) => ({ along, depth_mm: 0 })),
              roundness: 1,
              twist_deg: 0,
              turn_deg,
            },
          } as const,
        ]),
    ...(push ? [{ kind: 'push', alteration: push } as const] : []),
  ];
};
