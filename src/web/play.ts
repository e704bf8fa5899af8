import { temperatureHistory } from '../making/kiln/schedule.ts';
import type { Session } from './session.ts';
import { shownOf, workOf } from './state/page.ts';

/** A firing of a day in about this many seconds. */
const PLAYS_s = 9;

/**
 * Runs the film. It dwells where its pictures are close together, which is where the piece moves, so that hours
 * of cooling do not take up most of it. Somebody who wants less motion gets a few still pictures instead.
 */
export const player = (session: Session): (() => void) => {
  const calm = matchMedia('(prefers-reduced-motion: reduce)');
  let began = 0;
  let from = 0;

  const step = (now_ms: number): void => {
    const page = session.page();
    if (!page.playing) return;
    const pictures = shownOf(page)?.film.pictures ?? [];
    const total_s = temperatureHistory(workOf(page).schedule).time_s.at(-1)!;
    const passed = (now_ms - began) / 1000 / PLAYS_s;
    const share = Math.min(1, from + (calm.matches ? Math.floor(passed * 9) / 9 : passed));
    const place = share * (pictures.length - 1);
    const [a, b] = [pictures[Math.floor(place)], pictures[Math.ceil(place)]];
    const time_s = a && b ? a.time_s + (place - Math.floor(place)) * (b.time_s - a.time_s) : total_s;
    const moment = share >= 1 ? 1 : Math.min(1, time_s / total_s);
    session.update((p) => ({ ...p, moment, playing: share < 1 }));
    requestAnimationFrame(step);
  };

  return () => {
    const page = session.page();
    if (page.playing) {
      session.update((p) => ({ ...p, playing: false }));
      return;
    }
    const pictures = shownOf(page)?.film.pictures ?? [];
    const total_s = temperatureHistory(workOf(page).schedule).time_s.at(-1)!;
    const passed = pictures.filter((p) => p.time_s <= page.moment * total_s).length;
    from = page.moment >= 1 || pictures.length < 2 ? 0 : Math.max(0, passed - 1) / (pictures.length - 1);
    began = performance.now();
    session.update((p) => ({ ...p, playing: true, moment: page.moment >= 1 ? 0 : page.moment }));
    requestAnimationFrame(step);
  };
};
