/** Session folders to import, made from the invented demo so that their bytes are new. */
import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { zipSync } from 'fflate';

export type SessionFolders = Readonly<{
  root: string;
  /** The demo's own folder, under another title. */
  renamed(title: string): string;
  /** A short flight: the first rows of the demo's telemetry, quickly imported. */
  brief(title: string): string;
  /** A flight whose telemetry takes some seconds to import. */
  long(title: string): string;
  zipped(folder: string): string;
  file(name: string, content: string | Uint8Array): string;
  remove(): void;
}>;

const BRIEF_LINES = 3_000;
const LONG_ROWS = 700_000;
const LONG_CHANNELS = ['x', 'y', 'z', 'vx', 'vy', 'vz'] as const;
const BLOCK_ROWS = 1_000;

/** Makes the demo once; every folder is a copy. */
export function makeSessionFolders(): SessionFolders {
  const root = mkdtempSync(path.join(tmpdir(), 'wakeline-folders-'));
  const demo = path.join(root, 'demo');
  execFileSync(process.execPath, ['.built/make-demo.mjs', demo]);
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
      const lines = readFileSync(file, 'utf8').split('\n').slice(0, BRIEF_LINES);
      writeFileSync(file, `${lines.join('\n')}\n`);
      return folder;
    },
    long(title) {
      made += 1;
      const folder = path.join(root, `flight-${made}`);
      mkdirSync(folder);
      writeFileSync(path.join(folder, 'session.yaml'), longSessionYaml(title));
      writeFileSync(path.join(folder, 'telemetry.csv'), longTelemetry(made));
      return folder;
    },
    zipped(folder) {
      const zip = `${folder}.zip`;
      const names = ['session.yaml', 'plan.yaml', 'rules.yaml', 'events.csv', 'loop.vtt'];
      const files = [...names, 'telemetry.csv'].map((name) => [
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

function longSessionYaml(title: string): string {
  const as = (name: string): string =>
    name.length === 1
      ? `{ as: position.${name}, unit: m }`
      : `{ as: velocity.${name[1]}, unit: m/s }`;
  return [
    `title: ${title}`,
    'kind: flight',
    'zero: 2027-05-02T08:00:00.000Z',
    'sources:',
    '  - file: telemetry.csv',
    '    type: telemetry',
    '    time: { column: t, code: elapsed-seconds }',
    '    channels:',
    ...LONG_CHANNELS.map((name) => `      ${name}: ${as(name)}`),
    '',
  ].join('\n');
}

/**
 * A straight approach at 0.05 m/s, ten rows a second, from 3,600 m and one more for each flight: a
 * file that is known already would be read in no time.
 */
function longTelemetry(flight: number): string {
  const blocks = [`t,${LONG_CHANNELS.join(',')}\n`];
  for (let from = 0; from < LONG_ROWS; from += BLOCK_ROWS) {
    let block = '';
    for (let row = from; row < from + BLOCK_ROWS; row += 1) {
      const tS = row / 10;
      const noise = ((row * 7919) % 1000) / 1e5;
      const cells = [
        3600 + flight - 0.05 * tS + noise,
        noise,
        -noise,
        -0.05 + noise / 10,
        noise,
        noise / 2,
      ];
      block += `${tS.toFixed(1)},${cells.map((cell) => cell.toFixed(5)).join(',')}\n`;
    }
    blocks.push(block);
  }
  return blocks.join('');
}
