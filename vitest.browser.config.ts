import { defineConfig } from 'vitest/config';

/** Tests that drive the built page in a real browser: scripts/test.ts builds first and says where the browser is. */
export default defineConfig({
  test: {
    include: ['test/browser/**/*.test.ts'],
    testTimeout: 180_000,
    hookTimeout: 180_000,
    // One page at a time: a firing in a worker wants the whole machine.
    fileParallelism: false,
  },
});
