import { badInput } from '../../error.ts';
import type { MakeEngine } from '../../kernel/numerics/front-engine.ts';
import { wasmEngine } from '../../kernel/numerics/wasm-engine.ts';
import { clayHistory } from '../../making/clay/clay-history.ts';
import { fire } from '../../making/firing/fire.ts';
import { temperatureHistory } from '../../making/kiln/schedule.ts';
import { generousLn, paceOf, referenceClay } from '../../making/learning/evidence.ts';
import { paced } from '../../making/learning/expected.ts';
import { beliefNow, type Learned, learnFromUnloading, takeBack } from '../../making/learning/learn.ts';
import { pieceFilm } from '../../making/learning/piece-film.ts';
import { predictedOutline } from '../../making/photo/predicted-outline.ts';
import { evenly } from '../../making/photo/ring.ts';
import { MEASURE_KEYS } from '../state/measure-rows.ts';
import { forgeHere } from './forge.ts';
import { answerWith, drive } from './job-end.ts';
import type { ForeseeAsk, Foreseen, LearnAsk, LearningAsk } from './learning-jobs.ts';

type Say = (fraction: number, note: string) => void;

/** As fine as the look at a resting hand. */
const TRIANGLES = 2400;
/** Shown small: more points would only be more to draw. */
const OUTLINE_POINTS = 400;
/** Running the film takes about this part of it all. */
const FILM_SHARE = 0.7;

const foresee = async (ask: ForeseeAsk, say: Say, engine?: MakeEngine): Promise<Foreseen> => {
  const { form, setting, schedule, log, kiln } = ask;
  const clay = referenceClay(ask.clay, log);
  const heat = temperatureHistory(schedule);
  const pace = paceOf(clay, heat);
  const input = { form, clay, schedule, setting };
  const wish = { keys: MEASURE_KEYS, from_deg: 0 };
  const film = await drive(
    pieceFilm(input, clayHistory(clay, heat), generousLn(log, pace), wish, engine),
    (fraction, note) => say(FILM_SHARE * fraction, note),
  );
  const belief = beliefNow(log);
  const offset_K = belief.kilns.find((k) => k.name === kiln)?.mean_K ?? 0;
  // A hotter kiln is a clay that creeps further: one softness stands for both.
  const softer = Math.exp(belief.softness.mean + paced(pace)(offset_K));
  const { value_Pa_s, ...rest } = clay.sagViscosity;
  const believed = { ...clay, sagViscosity: { ...rest, value_Pa_s: value_Pa_s / softer } };
  const firing = await drive(
    fire({ ...input, clay: believed, triangles: TRIANGLES, care: 'quick' }, engine),
    (fraction, note) => say(FILM_SHARE + (1 - FILM_SHARE) * fraction, note),
  );
  const { kind } = firing.verdict;
  const end = firing.frames.at(-1);
  if (!end || kind === 'falls-over' || kind === 'keeps-falling')
    return { film, pace, wall: undefined, outline_m: undefined };
  const wall = {
    positions: end.positions,
    thickness_m: end.thickness_m,
    triangles: Uint32Array.from(firing.dry.triangles),
  };
  return { film, pace, wall, outline_m: evenly(predictedOutline(wall, { from_deg: 0 }), OUTLINE_POINTS) };
};

const learn = async (ask: LearnAsk, say: Say, engine?: MakeEngine): Promise<Learned> => {
  const { log, unloading, clay, schedule, forms, settings, stamp } = ask;
  const known = <T>(things: Readonly<Record<string, T>>, kind: string) => {
    return (file: string): T => {
      const found = things[file];
      if (!found) throw badInput(`unloading.pieces.${kind}`, file, `a ${kind} of this studio`);
      return found;
    };
  };
  const kit = { clay, schedule, form: known(forms, 'form'), setting: known(settings, 'setting') };
  return drive(learnFromUnloading(log, unloading, kit, stamp, engine), say);
};

answerWith<LearningAsk>((ask, say) => {
  if (ask.kind === 'take back') return takeBack(ask.log, ask.entry, 'Taken back by hand', ask.stamp);
  const forge = forgeHere();
  const engine = forge && wasmEngine(forge);
  return ask.kind === 'learn' ? learn(ask, say, engine) : foresee(ask, say, engine);
});
