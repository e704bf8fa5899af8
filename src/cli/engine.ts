import type { MakeEngine } from '../kernel/numerics/front-engine.ts';
import { wasmEngine } from '../kernel/numerics/wasm-engine.ts';
import { forgeHere } from './forge.ts';

/** Who does the factorisations on this machine; undefined: the plain kernels. */
export const engineHere = (): MakeEngine | undefined => {
  const forge = forgeHere();
  return forge && wasmEngine(forge);
};
