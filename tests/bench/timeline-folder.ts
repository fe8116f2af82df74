/** A session folder with an approach of any number of rows, for the bench of the timeline. */
import { closeSync, mkdirSync, openSync, writeFileSync, writeSync } from 'node:fs';
import path from 'node:path';

/** Columns beside the stamp and the four of the motion: what eight strips show. */
export const SENSORS: readonly string[] = Array.from({ length: 6 }, (_, at) => `sensor_${at}`);

/** Every folder spans the same session, so that the same windows can be asked of each. */
export const SPAN_S = 3600;
const NAV_STEP_S = 0.1;
/** Rows whose cells differ; after these they come again under later stamps. */
const DIFFERENT_ROWS = 50_000;
const FLUSH_CHARACTERS = 1 << 22;

const SESSION = (rows: number): string => `title: ${rows} rows
kind: simulation
zero: 2031-04-17T09:00:00Z
sources:
  - file: nav.csv
    type: telemetry
    time: { column: t, code: elapsed-seconds }
    channels:
      x: { as: position.x, unit: m }
      y: { as: position.y, unit: m }
      z: { as: position.z, unit: m }
      vx: { as: velocity.x, unit: m/s }
      vy: { as: velocity.y, unit: m/s }
      vz: { as: velocity.z, unit: m/s }
  - file: sensors.csv
    type: telemetry
    time: { column: t, code: elapsed-seconds }
    channels:
${SENSORS.map((name) => `      ${name}: { as: ${name}, unit: V }`).join('\n')}
plan: plan.yaml
rules: rules.yaml
`;

const PLAN = `plan:
  title: Straight in
  hold_rate_mps: 0.02
  hold_dwell_s: 10
  steps:
    - { id: final, to_m: 0, planned_s: 3600, closing_rate_mps: [[0, 0.08], [300, 0.08]], tolerance_mps: 0.02 }
`;

const RULES = `rules:
  - id: rate
    statement: The closing rate stays within its limit.
    quantity: closing_rate
    limit: { constant: 0.1, unit: m/s }
`;

/** Writes lines in pieces, so that no text of gigabytes is held. */
function writeLines(file: string, head: string, count: number, line: (row: number) => string) {
  const out = openSync(file, 'w');
  try {
    let text = `${head}\n`;
    for (let row = 0; row < count; row += 1) {
      text += `${line(row)}\n`;
      if (text.length < FLUSH_CHARACTERS) continue;
      writeSync(out, text);
      text = '';
    }
    writeSync(out, text);
  } finally {
    closeSync(out);
  }
}

/**
 * Writes the folder: the motion at 10 Hz, and a second source of as many rows as asked for. The motion
 * is the same in every folder; what grows is what the strips draw.
 */
export function writeTimelineFolder(folder: string, rows: number): void {
  mkdirSync(folder, { recursive: true });
  writeFileSync(path.join(folder, 'session.yaml'), SESSION(rows));
  writeFileSync(path.join(folder, 'plan.yaml'), PLAN);
  writeFileSync(path.join(folder, 'rules.yaml'), RULES);
  writeLines(path.join(folder, 'nav.csv'), 't,x,y,z,vx,vy,vz', SPAN_S / NAV_STEP_S, (row) => {
    const tS = row * NAV_STEP_S;
    const x = 290 - 0.08 * tS + 0.3 * Math.sin(tS / 40);
    const vx = -0.08 + (0.3 / 40) * Math.cos(tS / 40);
    const y = 0.2 * Math.sin(tS / 30);
    const vy = (0.2 / 30) * Math.cos(tS / 30);
    return [
      tS.toFixed(1),
      x.toFixed(4),
      y.toFixed(4),
      '0.05',
      vx.toFixed(5),
      vy.toFixed(5),
      '0',
    ].join(',');
  });
  const cells = Array.from({ length: Math.min(rows, DIFFERENT_ROWS) }, (_, row) =>
    SENSORS.map((_, at) =>
      (Math.sin(row / (900 + 40 * at)) + 0.2 * Math.sin(row * (1.7 + at))).toFixed(5),
    ).join(','),
  );
  const stepS = SPAN_S / rows;
  writeLines(path.join(folder, 'sensors.csv'), `t,${SENSORS.join(',')}`, rows, (row) => {
    return `${(row * stepS).toFixed(5)},${cells[row % cells.length]}`;
  });
}
