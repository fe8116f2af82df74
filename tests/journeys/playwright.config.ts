import { defineConfig } from '@playwright/test';
import { findBrowser } from './find-browser';

export default defineConfig({
  testDir: '.',
  testMatch: '*.journey.ts',
  outputDir: '../../test-results',
  workers: 1,
  // The longest journeys run with WAKELINE_LONG_JOURNEYS=1 until they are quick enough for every run.
  grepInvert:
    process.env.WAKELINE_LONG_JOURNEYS === '1'
      ? []
      : /two tabs on one finding|stopped and killed|from a session folder/,
  timeout: 240_000,
  expect: { timeout: 20_000 },
  reporter: [['list'], ['json']],
  use: {
    locale: 'en-GB',
    timezoneId: 'UTC',
    launchOptions: findBrowser(),
  },
});
