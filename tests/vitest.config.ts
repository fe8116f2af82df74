import path from 'node:path';
import { defineConfig } from 'vitest/config';

const pureFolders = ['architecture', 'core', 'reference', 'regression', 'view'];
const pure = pureFolders.map((name) => `tests/${name}/**/*.test.ts`);

export default defineConfig({
  resolve: { alias: { '@': path.resolve(import.meta.dirname, '..') } },
  test: {
    root: path.resolve(import.meta.dirname, '..'),
    pool: 'forks',
    maxWorkers: 2,
    env: { TZ: 'UTC' },
    testTimeout: 30_000,
    projects: [
      {
        extends: true,
        // Functions without state of their own: one process for many files, which loads them once.
        test: { name: 'pure', include: pure, isolate: false },
      },
      {
        extends: true,
        test: {
          name: 'effects',
          include: ['tests/**/*.test.ts'],
          exclude: [...pure, 'node_modules/**'],
        },
      },
    ],
  },
});
