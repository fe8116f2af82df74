/** How every browser of the tests is started: the system's Chromium, without what it loads by itself. */

export function findBrowser(): Readonly<{ executablePath: string; args: string[] }> {
  return {
    executablePath: process.env.CHROMIUM_PATH ?? '/usr/bin/chromium',
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
