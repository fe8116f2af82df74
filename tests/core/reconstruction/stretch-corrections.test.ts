import { expect, test } from 'vitest';
import { inputsText } from '@/lib/core/reconstruction/inputs-text';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { SessionInput } from '@/lib/core/session/session-input';
import type { StretchCorrection } from '@/lib/core/session/stretch-correction';
import { flownSession, plannedArrival, TEST_ENGINE } from '../../support/flown-session';

const SPIKE_ROW = 500;
const said = { by: 'R. Okafor', reason: 'the sensor was right' };

/** A planned arrival in which two rows across leave the signal by 5 m and return. */
function withSpike(): SessionInput {
  const input = flownSession({ axial: plannedArrival(), durationS: 2000 });
  const sources = input.sources.map((source) =>
    source.type !== 'telemetry'
      ? source
      : {
          ...source,
          channels: source.channels.map((channel) =>
            channel.as !== 'position.y'
              ? channel
              : {
                  ...channel,
                  values: channel.values.map((value, row) =>
                    row === SPIKE_ROW || row === SPIKE_ROW + 1 ? value + 5 : value,
                  ),
                },
          ),
        },
  );
  return { ...input, sources };
}

function run(stretchCorrections: readonly StretchCorrection[]) {
  return reconstruct({ ...withSpike(), stretchCorrections }, TEST_ENGINE);
}

function farthestAcross({ derived }: ReturnType<typeof run>): number {
  const column = derived.columns.find(({ name }) => name === 'lateral_offset');
  return Math.max(...(column?.values ?? []).filter(Number.isFinite));
}

const plain = run([]);
const spike = plain.reconstruction.dataQuality.find(({ kind }) => kind === 'spike');
const stretch = {
  source: spike?.source ?? '',
  channel: spike?.channel ?? '',
  fromS: (spike?.startS ?? 0) - 1,
  toS: (spike?.endS ?? 0) + 1,
};

test('a fault is kept out of figures until a person keeps it, and then says who and why', () => {
  expect(spike?.note).toMatch(/not used$/);
  const kept = run([{ ...stretch, use: 'keep', ...said }]);
  const found = kept.reconstruction.dataQuality.find(({ kind }) => kind === 'spike');
  expect(found?.note).toMatch(/kept in the figures by R\. Okafor: the sensor was right$/);
  expect(farthestAcross(kept)).toBeGreaterThan(farthestAcross(plain) + 0.2);
  expect(kept.reconstruction.inputsSha256).not.toBe(plain.reconstruction.inputsSha256);
});

test('of two judgements the later counts', () => {
  const again = run([
    { ...stretch, use: 'keep', ...said },
    { ...stretch, use: 'leave-out', ...said },
  ]);
  expect(farthestAcross(again)).toBeCloseTo(farthestAcross(plain), 1);
});

test('a stretch that was left out and is kept later is in the figures again', () => {
  const kept = run([
    { ...stretch, use: 'leave-out', ...said },
    { ...stretch, use: 'keep', ...said },
  ]);
  expect(farthestAcross(kept)).toBeGreaterThan(farthestAcross(plain) + 0.2);
  expect(kept.reconstruction.dataQuality.map(({ kind }) => kind)).not.toContain('left_out');
});

test('the same file read in another unit or with another sign is another input', () => {
  const input = withSpike();
  const read = (change: (value: number) => number) => {
    const sources = input.sources.map((source) =>
      source.type !== 'telemetry'
        ? source
        : {
            ...source,
            channels: source.channels.map((channel) =>
              channel.as === 'position.y'
                ? { ...channel, values: channel.values.map(change) }
                : channel,
            ),
          },
    );
    return inputsText({ ...input, sources }, 'an engine');
  };
  const asRead = read((value) => value);
  expect(asRead).toBe(inputsText(input, 'an engine'));
  expect(read((value) => value * 0.3048)).not.toBe(asRead);
  expect(read((value) => -value)).not.toBe(asRead);
});

test('the samples of a stretch that a person leaves out are listed and have no say', () => {
  const out = run([{ ...stretch, fromS: 0, toS: 100, use: 'leave-out', ...said }]);
  expect(out.reconstruction.dataQuality).toContainEqual(
    expect.objectContaining({ kind: 'left_out', startS: 0, endS: 100, channel: stretch.channel }),
  );
  // The motion is carried over the stretch by the velocity; the samples in it have no say.
  const at = (result: typeof out, row: number): number =>
    result.derived.columns.find(({ name }) => name === 'lateral_offset')?.values[row] ?? NaN;
  expect(at(out, 50)).not.toBe(at(plain, 50));
  expect(at(out, 1500)).toBeCloseTo(at(plain, 1500), 2);
});
