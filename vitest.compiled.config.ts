import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

/** The outside checks of the wall once more, the compiled kernels in place of their plain twins. */
export default defineConfig({
  resolve: {
    alias: [
      {
        find: /^\.\/plain-engine\.ts$/,
        replacement: fileURLToPath(new URL('test/kernels/compiled-as-plain.ts', import.meta.url)),
      },
    ],
  },
  test: {
    include: ['test/analytic/**/*.test.ts', 'test/reference/**/*.test.ts'],
    testTimeout: 120_000,
    hookTimeout: 120_000,
    maxWorkers: 2,
  },
});
