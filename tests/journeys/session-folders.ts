/** Session folders to import, made from the invented demo so that their bytes are new. */
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { zipSync } from 'fflate';

export type SessionFolders = Readonly<{
  root: string;
  /** The demo's own folder, under another title. */
  renamed(title: string): string;
  /** A short flight: the first rows of the demo's telemetry, each time another number of them. */
  brief(title: string): string;
  zipped(folder: string): string;
  file(name: string, content: string | Uint8Array): string;
  remove(): void;
}>;

const BRIEF_LINES = 1_500;

/** Names the folder of the demo's flight, made before all journeys. */
export const DEMO_FLIGHT = 'WAKELINE_DEMO_FLIGHT';

/** Copies of the demo's flight. */
export function makeSessionFolders(): SessionFolders {
  const root = mkdtempSync(path.join(tmpdir(), 'wakeline-folders-'));
  const demo = process.env[DEMO_FLIGHT] ?? '';
  let made = 0;

  function copy(title: string): string {
    made += 1;
    const folder = path.join(root, `flight-${made}`);
    cpSync(demo, folder, { recursive: true });
    const file = path.join(folder, 'session.yaml');
    writeFileSync(file, readFileSync(file, 'utf8').replace(/^title: .*$/m, `title: ${title}`));
    return folder;
  }

  return {
    root,
    renamed: copy,
    brief(title) {
      const folder = copy(title);
      const file = path.join(folder, 'telemetry.csv');
      const lines = readFileSync(file, 'utf8')
        .split('\n')
        .slice(0, BRIEF_LINES - made);
      writeFileSync(file, `${lines.join('\n')}\n`);
      return folder;
    },
    zipped(folder) {
      const zip = `${folder}.zip`;
      const files = readdirSync(folder).map((name) => [
        name,
        readFileSync(path.join(folder, name)),
      ]);
      writeFileSync(zip, zipSync(Object.fromEntries(files), { level: 1 }));
      return zip;
    },
    file(name, content) {
      const file = path.join(root, name);
      writeFileSync(file, content);
      return file;
    },
    remove: () => rmSync(root, { recursive: true, force: true }),
  };
}
