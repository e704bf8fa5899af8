import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

/** The page. (The command line is built by scripts/build.ts; tests have vitest.config.ts.) */
export default defineConfig({
  root: fileURLToPath(new URL('src/web', import.meta.url)),
  publicDir: false,
  build: {
    outDir: fileURLToPath(new URL('dist/web', import.meta.url)),
    emptyOutDir: true,
    target: 'es2022',
    // A source map loads only with the developer tools open, and then explains a stack trace.
    sourcemap: true,
    // The library for pictures in three dimensions is one piece; it comes from the same machine, so size costs little.
    chunkSizeWarningLimit: 1000,
  },
  worker: { format: 'es' },
});
