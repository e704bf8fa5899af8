import { AfterfireError } from '../../error.ts';
import { wasmEngine } from '../../kernel/numerics/wasm-engine.ts';
import { fire } from '../../making/firing/fire.ts';
import type { Firing, FiringInput, FiringProgress } from '../../making/firing/firing.ts';
import { breath } from './breath.ts';
import { buffersOfCompared, compare } from './compare.ts';
import { buffersOf, filmOf } from './film.ts';
import { forgeHere } from './forge.ts';
import type { Ask, Told } from './protocol.ts';
import { stoodOf } from './stood.ts';

/** Messages are let in this often: a stop is heard at once, and a short run is not held up. */
const BETWEEN_BREATHS_ms = 12;

const stopped = new Set<number>();
const forge = forgeHere();
const engine = forge && wasmEngine(forge);
/** The last full firing, by what was asked: what compares it need not fire it again. */
let last: { readonly asked: string; readonly firing: Firing } | undefined;

const say = (told: Told, buffers: ArrayBuffer[] = []): void => postMessage(told, { transfer: buffers });

/** Drives a run to its end; undefined where it was stopped. */
const drive = async <T>(
  id: number,
  run: Generator<FiringProgress, T, void>,
  tells: boolean,
): Promise<T | undefined> => {
  let breathed = performance.now();
  for (;;) {
    const step = run.next();
    if (step.done) return step.value;
    if (performance.now() - breathed < BETWEEN_BREATHS_ms) continue;
    const { fraction, note } = step.value;
    if (tells) say({ kind: 'progress', id, fraction, note });
    await breath();
    breathed = performance.now();
    if (stopped.delete(id)) {
      say({ kind: 'stopped', id });
      return undefined;
    }
  }
};

const fired = async (id: number, input: FiringInput): Promise<void> => {
  const began = performance.now();
  const firing = await drive(id, fire(input, engine), input.care === 'full');
  if (!firing) return;
  if (input.care === 'full') last = { asked: JSON.stringify(input), firing };
  const film = filmOf(firing);
  say({ kind: 'done', id, film, took_ms: performance.now() - began }, buffersOf(film));
};

const compared = async (id: number, input: FiringInput): Promise<void> => {
  const known = last?.asked === JSON.stringify(input) ? last.firing : undefined;
  const found = await drive(id, compare(input, engine, known), true);
  if (found) say({ kind: 'compared', id, compared: found }, buffersOfCompared(found));
};

const failed = (id: number, input: FiringInput, error: unknown): void => {
  const known = error instanceof AfterfireError;
  const faults = known ? error.faults : [];
  say({
    kind: 'failed',
    id,
    code: known ? error.code : 'broken',
    message: error instanceof Error ? error.message : String(error),
    faults,
    stood: faults[0]?.field.startsWith('setting.') ? stoodOf(input) : undefined,
  });
};

addEventListener('message', ({ data }: MessageEvent<Ask>) => {
  if (data.kind === 'stop') {
    stopped.add(data.id);
    return;
  }
  const { id, input } = data;
  (data.kind === 'fire' ? fired : compared)(id, input).catch((error: unknown) => failed(id, input, error));
});
