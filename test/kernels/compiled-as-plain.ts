import { forgeHere } from '../../src/cli/forge.ts';
import type { FrontEngine, MakeEngine } from '../../src/kernel/numerics/front-engine.ts';
import { wasmEngine } from '../../src/kernel/numerics/wasm-engine.ts';

/** Stands in for src/kernel/numerics/plain-engine.ts where tests of the wall run again by the compiled kernels. */
const forge = forgeHere()!;
const make = wasmEngine(forge);
const made: FrontEngine[] = [];
/** Many tests never give an engine's room back; beyond so much the oldest is taken to be done with. */
const ENOUGH_bytes = 5e8;

export const plainEngine: MakeEngine = (plan, matrix) => {
  const taken = () => [...forge.taken.values()].reduce((a, b) => a + b, 0);
  while (made.length > 4 && taken() > ENOUGH_bytes) made.shift()?.free();
  const engine = make(plan, matrix);
  made.push(engine);
  return engine;
};
