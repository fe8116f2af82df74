import path from 'node:path';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  resolve: { alias: { '@': path.resolve(import.meta.dirname, '..') } },
  test: {
    root: path.resolve(import.meta.dirname, '..'),
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/journeys/**', 'node_modules/**'],
    pool: 'forks',
    maxWorkers: 2,
    // Two processes for all files: a module is loaded once in each. A test that needs a data folder has its own.
    isolate: false,
    env: { TZ: 'UTC' },
    // Generous: build and browser journeys run beside these tests.
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
});
