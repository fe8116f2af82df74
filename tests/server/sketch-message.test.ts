import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { describedSession, openQuestions } from '@/lib/core/intake/proposal/described-session';
import { proposeSession } from '@/lib/core/intake/proposal/session-proposal';
import { readSessionFile } from '@/lib/core/session/read-session-file';
import { writeSessionFile } from '@/lib/core/session/write-session-file';
import { sketchFile } from '@/lib/server/uploads/sketch-file';

const upload = { files: '' };
beforeEach(() => {
  upload.files = path.join(mkdtempSync(path.join(os.tmpdir(), 'wakeline-message-')), 'files');
  mkdirSync(upload.files);
});
afterEach(() => rmSync(path.dirname(upload.files), { recursive: true, force: true }));

function sketchOf(name: string, content: string | Uint8Array) {
  writeFileSync(path.join(upload.files, name), content);
  return sketchFile(upload.files, name);
}

/** Made for this test by the form of CCSDS 503.0-B-2, annex E; the numbers are invented. */
const TDM = `CCSDS_TDM_VERS = 2.0
CREATION_DATE = 2031-061T12:00:00
ORIGINATOR = TEST
META_START
TIME_SYSTEM = UTC
PARTICIPANT_1 = PORT
PARTICIPANT_2 = CHASER
MODE = SEQUENTIAL
PATH = 1,2,1
RANGE_UNITS = km
META_STOP
DATA_START
RANGE = 2031-061T10:00:00 0.200
DOPPLER_INSTANTANEOUS = 2031-061T10:00:00 -0.0001
ANGLE_1 = 2031-061T10:00:00 12.5
RANGE = 2031-061T10:00:01 0.1999
DATA_STOP
`;

test('tracking data are proposed as telemetry with their own times, whatever the file is called', async () => {
  for (const name of ['track.tdm', 'track.txt', 'track.tdm.gz']) {
    const packed = name.endsWith('.gz') ? gzipSync(TDM) : TDM;
    const sketch = await sketchOf(name, packed);
    expect(sketch.said).toContain('tracking data (CCSDS TDM) in 1 segment');
    expect(sketch.table).toMatchObject({
      columns: ['time', 'RANGE', 'DOPPLER_INSTANTANEOUS', 'ANGLE_1'],
      lines: [13, 16],
    });
    const { description } = proposeSession([sketch]);
    expect(description.zero).toBe('2031-03-02T10:00:00Z');
    expect(description.files[0]).toMatchObject({ use: 'telemetry', ownTimes: true });
    expect(description.files[0]?.channels.map(({ as, unit }) => [as, unit])).toEqual([
      ['range', 'km'],
      ['range_rate', 'km/s'],
      [null, 'deg'],
    ]);
    const titled = { ...description, title: 'Track' };
    expect(openQuestions(titled)).toEqual([]);
    const { issues, value } = readSessionFile(
      writeSessionFile(describedSession(titled)),
      'session.yaml',
    );
    // 2031 lies beyond the leap-second table.
    expect(issues.map(({ code }) => code)).toEqual(['leap-second-table-expired']);
    expect(value?.sources).toMatchObject([{ type: 'telemetry', file: name }]);
  }
});

const OEM = (center: string) => `CCSDS_OEM_VERS = 2.0
CREATION_DATE = 2031-061T12:00:00
ORIGINATOR = TEST
META_START
OBJECT_NAME = CHASER
OBJECT_ID = 2031-001A
CENTER_NAME = ${center}
REF_FRAME = ICRF
TIME_SYSTEM = TAI
START_TIME = 2031-061T10:00:00
STOP_TIME = 2031-061T10:01:00
META_STOP
2031-061T10:00:37 0.2 0 0 -0.0001 0 0
2031-061T10:01:00 0.19 0 0 -0.0001 0 0
`;

test('states from another vehicle are telemetry, those round a planet an ephemeris', async () => {
  const uses = [];
  for (const center of ['PORT', 'EARTH', 'EARTH_BARYCENTER']) {
    const sketch = await sketchOf('a.oem', OEM(center));
    const [file] = proposeSession([sketch]).description.files;
    expect(file?.channels.map(({ as }) => as).slice(0, 4)).toEqual([
      'position.x',
      'position.y',
      'position.z',
      'velocity.x',
    ]);
    uses.push(file?.use);
  }
  expect(uses).toEqual(['telemetry', 'ephemeris', 'ephemeris']);
  const broken = await sketchOf('b.oem', OEM('EARTH').replace('TAI', 'NOON'));
  expect(broken).toMatchObject({
    kind: 'other',
    said: expect.stringMatching(/fault in line \d+: /),
  });
  expect((await sketchOf('c.xml', '<?xml version="1.0"?><table/>')).kind).toBe('other');
});
