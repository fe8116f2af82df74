/** A telemetry file of 36 million values: 1,500,000 rows of a stamp and 23 channels, always the same. */
import { closeSync, openSync, writeSync } from 'node:fs';
import { seededRandom } from '../support/seeded-random';

export const BENCH_ROWS = 1_500_000;
export const BENCH_CHANNELS = 23;
/** Channels that hold one whole number for a thousand rows and more, as modes and counters do. */
const HELD_CHANNELS = 3;
const STEP_S = 0.0144;
const ABSENT_SHARE = 0.01;
const FLUSH_CHARACTERS = 1 << 20;

export function benchChannel(index: number): string {
  return `ch${index}`;
}

function cellsOf(row: number, level: Float64Array, random: () => number): string {
  let cells = '';
  for (let index = 0; index < BENCH_CHANNELS; index += 1) {
    if (index < HELD_CHANNELS) {
      cells += `,${Math.floor(row / (1000 * (index + 1))) % 7}`;
      continue;
    }
    const walk = (level[index] ?? 0) + (random() - 0.5) * 0.02;
    level[index] = walk;
    const isAbsent = random() < ABSENT_SHARE;
    cells += isAbsent ? ',' : `,${(walk * 10 + random() - 0.5).toFixed(6)}`;
  }
  return cells;
}

/** Writes the file; about ten seconds. */
export function writeWideCsv(file: string): void {
  const random = seededRandom(36);
  const level = new Float64Array(BENCH_CHANNELS);
  const out = openSync(file, 'w');
  try {
    const names = Array.from({ length: BENCH_CHANNELS }, (_, index) => benchChannel(index));
    let text = `t,${names.join(',')}\n`;
    for (let row = 0; row < BENCH_ROWS; row += 1) {
      text += `${(row * STEP_S).toFixed(4)}${cellsOf(row, level, random)}\n`;
      if (text.length < FLUSH_CHARACTERS) continue;
      writeSync(out, text);
      text = '';
    }
    writeSync(out, text);
  } finally {
    closeSync(out);
  }
}
