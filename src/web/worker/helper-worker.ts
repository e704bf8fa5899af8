/** A further thread for the compiled kernels; it serves until the worker that began it ends. */
addEventListener(
  'message',
  ({ data }: MessageEvent<{ module: WebAssembly.Module; memory: WebAssembly.Memory }>) => {
    const { exports } = new WebAssembly.Instance(data.module, { env: { memory: data.memory } });
    const { join, serve } = exports as { join: () => number; serve: (me: number) => void };
    serve(join());
  },
);
