import os from 'node:os';
import { Worker } from 'node:worker_threads';
import { type Forge, MOST_HELPERS, openForge, type WasmDoor } from '../kernel/numerics/forge.ts';
import { KERNELS, MOST_PAGES } from '../kernel/numerics/kernels.ts';

const HELPER = `
const { workerData } = require('node:worker_threads');
const { module, memory } = workerData;
const { exports } = new WebAssembly.Instance(module, { env: { memory } });
exports.serve(exports.join());
`;

/**
 * The compiled kernels with a thread for each further core. They come when they are ready and end with the program.
 * @returns undefined where this Node has no shared memory or no SIMD: the plain kernels then do it all
 */
export const forgeHere = (
  helpers = Math.min(MOST_HELPERS, os.availableParallelism() - 1),
): Forge | undefined => {
  const door = (globalThis as unknown as { WebAssembly: WasmDoor }).WebAssembly;
  try {
    const { forge, module, memory } = openForge(door, Buffer.from(KERNELS, 'base64'), MOST_PAGES);
    for (let k = 0; k < helpers; k++)
      new Worker(HELPER, { eval: true, workerData: { module, memory } }).unref();
    return forge;
  } catch {
    return undefined;
  }
};
