import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['src/**/*.test.ts', 'test/**/*.test.ts'],
    exclude: ['test/browser/**', '**/node_modules/**'],
    testTimeout: 120_000,
    hookTimeout: 120_000,
    // Two cores is the machine we promise; more workers only fight over them.
    maxWorkers: 2,
  },
});
