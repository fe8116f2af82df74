/** A small invented session as files: 120 s, a hold and a move, a log. */
import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';

function telemetryCsv(): string {
  const rows = Array.from({ length: 601 }, (_, row) => {
    const timeS = row / 5;
    const rangeM = timeS < 40 ? 30 : 30 - 0.3 * (timeS - 40);
    return `${timeS.toFixed(1)},${rangeM.toFixed(4)},0.0100,0.0200,${timeS < 40 ? '0.0000' : '-0.3000'},0,0`;
  });
  return `t,x,y,z,vx,vy,vz\n${rows.join('\n')}\n`;
}

const SESSION = `title: Small arrival
kind: flight
zero: 2025-03-04T10:00:00Z
sources:
  - file: telemetry.csv
    type: telemetry
    time: { column: t, code: elapsed-seconds }
    channels:
      x: { as: position.x, unit: m }
      y: { as: position.y, unit: m }
      z: { as: position.z, unit: m }
      vx: { as: velocity.x, unit: m/s }
      vy: { as: velocity.y, unit: m/s }
      vz: { as: velocity.z, unit: m/s }
  - file: events.csv
    type: events
    time: { column: t, code: elapsed-seconds }
plan: plan.yaml
rules: rules.yaml
`;

const PLAN = `plan:
  title: Small plan
  hold_rate_mps: 0.02
  hold_dwell_s: 10
  steps:
    - { id: hold-30, hold_m: 30, tolerance_m: 2, planned_s: 40 }
    - { id: final, to_m: 0, planned_s: 100, closing_rate_mps: [[0, 0.3], [30, 0.3]], tolerance_mps: 0.05 }
`;

const RULES = `rules:
  - id: closing-rate
    statement: Closing rate stays at or under 0.5 m/s.
    quantity: closing_rate
    limit: { constant: 0.5, unit: m/s }
`;

/** The folder's files by name; a change of null leaves a file out. */
export function smallSession(
  changes: Readonly<Record<string, string | null>> = {},
): Map<string, string> {
  const files = new Map([
    ['session.yaml', SESSION],
    ['plan.yaml', PLAN],
    ['rules.yaml', RULES],
    ['telemetry.csv', telemetryCsv()],
    ['events.csv', 't,event,text\n40,go,Go for the final approach.\n'],
  ]);
  for (const [name, text] of Object.entries(changes)) {
    if (text === null) files.delete(name);
    else files.set(name, text);
  }
  return files;
}

/** Writes files into a new temporary folder. */
export function folderOnDisk(files: ReadonlyMap<string, string>): string {
  const folder = path.join(mkdtempSync(path.join(tmpdir(), 'wakeline-folder-')), 'session');
  for (const [name, text] of files) {
    const file = path.join(folder, name);
    mkdirSync(path.dirname(file), { recursive: true });
    writeFileSync(file, text);
  }
  return folder;
}
