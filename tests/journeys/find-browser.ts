/** How every browser of the tests is started: the system's Chromium, without what it loads by itself. */
import { existsSync } from 'node:fs';

/** The one without a window of its own takes a quarter less of the processor. */
const USUAL_PATHS = [
  '/usr/bin/chromium-headless-shell',
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
];

export function findBrowser(): Readonly<{ executablePath: string; args: string[] }> {
  return {
    executablePath:
      process.env.CHROMIUM_PATH ?? USUAL_PATHS.find((file) => existsSync(file)) ?? 'chromium',
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  };
}
