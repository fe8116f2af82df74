import path from 'node:path';
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** Folders whose tests start processes; the others are over in a moment and fill what is left. */
const LONG = /\/tests\/(?:crash|server|seed)\//;

/** The long ones first, so that at the end no worker waits for another's last file. */
class LongFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    const isLong = ({ moduleId }: TestSpecification): boolean => LONG.test(moduleId);
    return [...sorted.filter(isLong), ...sorted.filter((file) => !isLong(file))];
  }
}

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
    sequence: { sequencer: LongFirst },
    env: { TZ: 'UTC' },
    // Against what hangs, not against what is slow: build and browser journeys run beside these tests.
    testTimeout: 600_000,
    hookTimeout: 600_000,
    expect: { poll: { timeout: 300_000, interval: 50 } },
  },
});
