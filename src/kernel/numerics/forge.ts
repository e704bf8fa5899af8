/**
 * The compiled kernels (assembly/) and the memory they share with whoever helps. The kernel never reaches for
 * WebAssembly itself: a door hands it in.
 */
export interface ForgeExports {
  factorise(subject: number, together: number): number;
  solve(subject: number, together: number): void;
  compliance(subject: number, together: number): void;
  assemble(subject: number, together: number): void;
  threads(): number;
  denseProduct(at: number, times: number): void;
}

/** What is used of a WebAssembly memory: shared, so that growing it leaves older views good. */
export interface ForgeMemory {
  readonly buffer: ArrayBufferLike;
  grow(pages: number): number;
}

export interface Forge {
  readonly exports: ForgeExports;
  readonly memory: ForgeMemory;
  /** Free stretches [from, to) in bytes, rising. */
  readonly free: { from: number; to: number }[];
  readonly taken: Map<number, number>;
}

/** More helping threads than this wait for one another more than they work. */
export const MOST_HELPERS = 3;

const PAGE = 65536;
/** The lowest bytes are the kernels' own. */
const FIRST = 4096;
const ALIGN = 64;
/** Pages asked for at once. */
const AT_ONCE = 64;

const makeForge = (exports: ForgeExports, memory: ForgeMemory): Forge => ({
  exports,
  memory,
  free: [{ from: FIRST, to: memory.buffer.byteLength }],
  taken: new Map(),
});

/**
 * Room for so many bytes, on a multiple of 64; its contents are whatever was there.
 * @throws RangeError (the engine's own) where the memory may not grow that far
 */
export const takeRoom = (f: Forge, bytes: number): number => {
  const size = Math.max(ALIGN, (bytes + ALIGN - 1) & -ALIGN);
  let gap = f.free.find((g) => g.to - g.from >= size);
  if (!gap) {
    const end = f.memory.buffer.byteLength;
    const last = f.free.at(-1);
    const has = last && last.to === end ? end - last.from : 0;
    f.memory.grow(Math.max(AT_ONCE, Math.ceil((size - has) / PAGE)));
    gap = has > 0 ? last! : { from: end, to: end };
    if (has === 0) f.free.push(gap);
    gap.to = f.memory.buffer.byteLength;
  }
  const at = gap.from;
  gap.from += size;
  if (gap.from === gap.to) f.free.splice(f.free.indexOf(gap), 1);
  f.taken.set(at, size);
  return at;
};

/** Gives room back; neighbouring stretches grow together. */
export const giveBack = (f: Forge, at: number): void => {
  const size = f.taken.get(at);
  if (size === undefined) return;
  f.taken.delete(at);
  f.free.push({ from: at, to: at + size });
  f.free.sort((a, b) => a.from - b.from);
  for (let k = f.free.length - 1; k > 0; k--)
    if (f.free[k - 1].to === f.free[k].from) {
      f.free[k - 1].to = f.free[k].to;
      f.free.splice(k, 1);
    }
};

/** The part of WebAssembly's own interface that is used; a door passes the real one. */
export interface WasmDoor {
  readonly Memory: new (wish: { initial: number; maximum: number; shared: boolean }) => ForgeMemory;
  readonly Module: new (bytes: Uint8Array) => object;
  readonly Instance: new (module: object, imports: object) => { readonly exports: object };
}

export interface OpenForge {
  readonly forge: Forge;
  /** What a helping thread needs: it joins with `exports.serve(exports.join())`. */
  readonly module: object;
  readonly memory: ForgeMemory;
}

const FIRST_PAGES = 16;

/**
 * Sets the compiled kernels up in a memory of their own.
 * @throws whatever the door throws where it has no shared memory or no SIMD
 */
export const openForge = (wasm: WasmDoor, bytes: Uint8Array, mostPages: number): OpenForge => {
  const memory = new wasm.Memory({ initial: FIRST_PAGES, maximum: mostPages, shared: true });
  const module = new wasm.Module(bytes);
  const { exports } = new wasm.Instance(module, { env: { memory } });
  return { forge: makeForge(exports as ForgeExports, memory), module, memory };
};
