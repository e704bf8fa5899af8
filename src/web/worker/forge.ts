import { type Forge, MOST_HELPERS, openForge, type WasmDoor } from '../../kernel/numerics/forge.ts';
import { KERNELS, MOST_PAGES } from '../../kernel/numerics/kernels.ts';

/**
 * The compiled kernels with a helper for each further core; helpers come when they are ready and end with this worker.
 * @returns undefined where the page may not share memory, or the browser has no SIMD: the plain kernels then do it all
 */
export const forgeHere = (): Forge | undefined => {
  if (!crossOriginIsolated) return undefined;
  try {
    const bytes = Uint8Array.from(atob(KERNELS), (c) => c.charCodeAt(0));
    const { forge, module, memory } = openForge(WebAssembly as unknown as WasmDoor, bytes, MOST_PAGES);
    const helpers = Math.min(MOST_HELPERS, navigator.hardwareConcurrency - 1);
    for (let k = 0; k < helpers; k++)
      new Worker(new URL('./helper-worker.ts', import.meta.url), { type: 'module' }).postMessage({
        module,
        memory,
      });
    return forge;
  } catch {
    return undefined;
  }
};
