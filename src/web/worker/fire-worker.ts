import { AfterfireError } from '../../error.ts';
import { wasmEngine } from '../../kernel/numerics/wasm-engine.ts';
import { fire } from '../../making/firing/fire.ts';
import type { FiringInput } from '../../making/firing/firing.ts';
import { breath } from './breath.ts';
import { buffersOf, filmOf } from './film.ts';
import { forgeHere } from './forge.ts';
import type { Ask, Told } from './protocol.ts';

/** Messages are let in this often: a stop is heard at once, and a short run is not held up. */
const BETWEEN_BREATHS_ms = 12;

const stopped = new Set<number>();
const forge = forgeHere();
const engine = forge && wasmEngine(forge);

const say = (told: Told, buffers: ArrayBuffer[] = []): void => postMessage(told, { transfer: buffers });

const drive = async (id: number, input: FiringInput): Promise<void> => {
  const began = performance.now();
  const run = fire(input, engine);
  let breathed = began;
  for (;;) {
    const step = run.next();
    if (step.done) {
      const film = filmOf(step.value);
      say({ kind: 'done', id, film, took_ms: performance.now() - began }, buffersOf(film));
      return;
    }
    if (performance.now() - breathed < BETWEEN_BREATHS_ms) continue;
    const { fraction, note } = step.value;
    if (input.care === 'full') say({ kind: 'progress', id, fraction, note });
    await breath();
    breathed = performance.now();
    if (stopped.delete(id)) {
      say({ kind: 'stopped', id });
      return;
    }
  }
};

const failed = (id: number, error: unknown): void => {
  const known = error instanceof AfterfireError;
  say({
    kind: 'failed',
    id,
    code: known ? error.code : 'broken',
    message: error instanceof Error ? error.message : String(error),
    faults: known ? error.faults : [],
  });
};

addEventListener('message', ({ data }: MessageEvent<Ask>) => {
  if (data.kind === 'stop') stopped.add(data.id);
  else drive(data.id, data.input).catch((error: unknown) => failed(data.id, error));
});
