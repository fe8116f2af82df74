import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { defineConfig } from '@playwright/test';

const executablePath = process.env.CHROMIUM_PATH ?? '/usr/bin/chromium';

process.env.WAKELINE_TEST_DATA ??= mkdtempSync(path.join(tmpdir(), 'wakeline-journeys-'));

export default defineConfig({
  testDir: '.',
  testMatch: '*.journey.ts',
  outputDir: '../../test-results',
  workers: 1,
  timeout: 90_000,
  reporter: [['list'], ['json']],
  use: {
    locale: 'en-GB',
    timezoneId: 'UTC',
    launchOptions: {
      executablePath,
      args: [
        '--no-sandbox',
        '--disable-gpu',
        '--disable-quic',
        '--no-first-run',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
      ],
    },
  },
});
