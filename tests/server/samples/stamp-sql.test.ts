import { expect, test } from 'vitest';
import { makeStampReader } from '@/lib/core/time/stamp-reader';
import type { TimeCode, TimeScale } from '@/lib/core/time/time-code';
import { importTelemetry } from '@/lib/server/samples/import-telemetry';
import { readTelemetrySource } from '@/lib/server/samples/read-telemetry';
import { checkStampOrder } from '@/lib/server/samples/stamp-order';
import { instantOf, sourceOnDisk, telemetrySpec, ZERO } from '../../support/telemetry-spec';

/** 400 instants a third of a second apart, over midnight, written in one code. */
function stampTexts(code: TimeCode): string[][] {
  const startMs = Date.UTC(2025, 2, 4, 23, 58, 30);
  return Array.from({ length: 400 }, (_, index): string[] => {
    const ns = BigInt(startMs) * 1_000_000n + BigInt(index) * 333_333_333n;
    const date = new Date(Number(ns / 1_000_000n));
    const fraction = String(ns % 1_000_000_000n).padStart(9, '0');
    const seconds = ns / 1_000_000_000n;
    const time = date.toISOString().slice(11, 19);
    const day = String(date.toISOString().startsWith('2025-03-04') ? 63 : 64).padStart(3, '0');
    switch (code) {
      case 'iso8601':
      case 'ccsds-a':
        return [`${date.toISOString().slice(0, 10)}T${time}.${fraction}`];
      case 'ccsds-b':
        return [`2025-${day}T${time}.${fraction}Z`];
      case 'unix-seconds':
        return [`${seconds}.${fraction}`];
      case 'unix-milliseconds':
        return [`${ns / 1_000_000n}.${fraction.slice(3)}`];
      case 'unix-microseconds':
        return [`${ns / 1000n}.${fraction.slice(6)}`];
      case 'unix-nanoseconds':
        return [`${ns}`];
      case 'elapsed-milliseconds':
        return [`${index * 1000}.${fraction.slice(0, 6)}`];
      case 'gps-week-seconds': {
        const sinceEpoch = seconds - 315_964_800n;
        return [String(sinceEpoch / 604_800n), `${sinceEpoch % 604_800n}.${fraction}`];
      }
      case 'julian-date':
        return [(2_440_587.5 + Number(seconds) / 86_400 + index / 864_000).toFixed(9)];
      case 'elapsed-seconds':
        return [`${index}.${fraction}`];
      case 'elapsed-dhms':
        return [`001:${time}.${fraction.slice(0, 3)}`];
      default:
        throw new Error(`no stamps for ${String(code)}`);
    }
  });
}

const CODES: TimeCode[] = [
  'iso8601',
  'ccsds-a',
  'ccsds-b',
  'unix-seconds',
  'unix-milliseconds',
  'unix-microseconds',
  'unix-nanoseconds',
  'elapsed-milliseconds',
  'gps-week-seconds',
  'julian-date',
  'elapsed-seconds',
];
const SCALES: TimeScale[] = ['UTC', 'TAI', 'GPS', 'TT'];
const cases = CODES.flatMap((code) => SCALES.map((scale) => [code, scale] as const)).filter(
  // A Z marks UTC; the core refuses it on another scale.
  ([code, scale]) => code !== 'ccsds-b' || scale === 'UTC',
);

test.each(cases)(
  '%s on %s gives the same doubles by DuckDB and by the core',
  async (code, scale) => {
    const texts = stampTexts(code);
    const columns = code === 'gps-week-seconds' ? ['week', 'sow'] : ['t'];
    const zero = instantOf('2025-03-04T23:58:00.000000007Z');
    const time = { columns, code, scale, from: ZERO };
    const spec = telemetrySpec({ time });
    const lines = texts.map((cells, row) => [...cells, row, 1].join(','));
    const disk = sourceOnDisk(`${[...columns, 'a', 'b'].join(',')}\n${lines.join('\n')}\n`);
    const { folder, issues } = await importTelemetry({
      parts: [{ name: 'telemetry.csv', file: disk.file }],
      spec,
      zero,
      samplesRoot: disk.samplesRoot,
    });
    // Stamps of a Julian date in cells of a few digits come in bursts, which is noted.
    expect(issues.filter(({ code }) => !['time-jumps', 'days-resolution'].includes(code))).toEqual(
      [],
    );
    const source = await readTelemetrySource(disk.samplesRoot, folder ?? '', spec);
    const read = makeStampReader(time, zero);
    const wanted = texts.map(([text, second]) => read(text ?? '', second));
    expect(source.tS.length).toBe(400);
    expect(Array.from(source.tS)).toEqual(wanted);
  },
);

test('a stamp far beyond any date costs its own row and not those after it', async () => {
  const time = { columns: ['t'], code: 'unix-nanoseconds', scale: 'UTC', from: ZERO } as const;
  const spec = telemetrySpec({ time });
  const rows = Array.from({ length: 30 }, (_, row) => `${1_741_082_400 + row}000000000,1,2`);
  rows.splice(5, 0, '99999999999999999999999,1,2');
  const disk = sourceOnDisk(`t,a,b\n${rows.join('\n')}\n`);
  const { report } = await importTelemetry({
    parts: [{ name: 'telemetry.csv', file: disk.file }],
    spec,
    zero: ZERO,
    samplesRoot: disk.samplesRoot,
  });
  expect(report).toMatchObject({ rowsRead: 31, rows: 30, rowsOutOfOrder: 1, rowsRejected: 0 });
  expect(report?.stampFaults.map((fault) => fault.line)).toEqual([7]);
});

test('rows out of order are gathered into runs that say how far back they step', () => {
  const order = checkStampOrder(Float64Array.of(0, 1, 1, 1, Number.NaN, 2, 0.5, 0.25, 3));
  expect(order.dropped).toEqual([2, 3, 6, 7]);
  expect(order.unreadable).toEqual([4]);
  expect(order.runs).toEqual([
    { kind: 'duplicate', startS: 1, endS: 1, row: 2 },
    { kind: 'out_of_order', startS: 0.25, endS: 2, row: 6 },
  ]);
});

test('a swapped row is the fault, not the many after it', () => {
  const swapped = Float64Array.of(0, 1, 3, 2, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13);
  expect(checkStampOrder(swapped).dropped).toEqual([3]);
});

test('two rows that ran ahead are the fault when many follow that did not', () => {
  const stamps = [0, 1, 900, 901, ...Array.from({ length: 30 }, (_, row) => 2 + row)];
  const order = checkStampOrder(Float64Array.from(stamps));
  expect(order.dropped).toEqual([2, 3]);
  expect(order.runs).toEqual([{ kind: 'out_of_order', startS: 2, endS: 901, row: 2 }]);
});
