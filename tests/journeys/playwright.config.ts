import { defineConfig } from '@playwright/test';
import { findBrowser } from './find-browser';

export default defineConfig({
  testDir: '.',
  globalSetup: './demo-template.ts',
  testMatch: '*.journey.ts',
  outputDir: '../../test-results',
  // On two processors: a journey waits for answers as often as it keeps one busy.
  workers: 3,
  fullyParallel: true,
  timeout: 900_000,
  expect: { timeout: 120_000 },
  reporter: [['list'], ['json']],
  use: {
    locale: 'en-GB',
    timezoneId: 'UTC',
    launchOptions: findBrowser(),
  },
});
