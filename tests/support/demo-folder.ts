/** The invented demo's flight, flown once in each test process; its simulator runs are left out. */
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { flightFiles } from '@/seed/make-demo';

let flown: ReadonlyMap<string, string> | null = null;

/** File name and text of every file of the demo's folder. */
export function demoFilesOnce(): ReadonlyMap<string, string> {
  flown ??= flightFiles();
  return flown;
}

/** Writes the demo's folder. */
export function writeDemoOnce(folder: string): void {
  mkdirSync(folder, { recursive: true });
  for (const [name, text] of demoFilesOnce()) writeFileSync(path.join(folder, name), text);
}
