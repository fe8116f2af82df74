import { expect, test } from 'vitest';
import { readPeopleFile } from '@/lib/core/session/read-people-file';
import { faultOfTies } from '@/lib/core/session/recording-words';
import { writePeopleFile } from '@/lib/core/session/write-people-file';

const SHA = 'a'.repeat(64);

test('a recording with its clock goes into people.yaml and comes back the same', () => {
  const recording = {
    name: 'loop.wav',
    sha256: SHA,
    bytes: 12_345,
    mediaType: 'audio/wav',
    durationS: 60,
    ties: [
      [0, 12.5],
      [600, 612.6],
    ] as const,
    author: 'R. Quill',
    reason: 'heard at the call of contact',
    atIso: '2031-04-17T10:00:00.000Z',
  };
  const text = writePeopleFile({
    clockCorrections: [],
    stretchCorrections: [],
    recordings: [recording],
  });
  const read = readPeopleFile(text, 'people.yaml');
  expect(read.issues).toEqual([]);
  expect(read.value?.recordings).toEqual([recording]);
});

test.each([
  ['file: a/b.wav', 'recordings[0].file'],
  ['file: a.wav, sha256: xyz', 'recordings[0].sha256'],
  [`file: a.wav, sha256: ${SHA}, bytes: 0`, 'recordings[0].bytes'],
  [
    `file: a.wav, sha256: ${SHA}, bytes: 1, media_type: audio/wav, tie_points: [[-1, 0]]`,
    'recordings[0].tie_points[0][0]',
  ],
])('%s is one problem at its key', (keys, keyPath) => {
  const { issues, value } = readPeopleFile(`recordings:\n  - { ${keys} }\n`, 'people.yaml');
  expect(value).toBeNull();
  expect(issues.filter((issue) => issue.keyPath === keyPath)).toHaveLength(1);
});

test.each([
  [[[0, 100]], null],
  [
    [
      [0, 100],
      [60, 160.1],
    ],
    null,
  ],
  [
    [
      [60, 160],
      [0, 100],
    ],
    null,
  ],
  [
    [
      [5, 1],
      [5, 2],
    ],
    /same time/,
  ],
  [
    [
      [0, 100],
      [60, 90],
    ],
    /backwards/,
  ],
  [
    [
      [0, 0],
      [60, 120],
    ],
    /2\.00 of its speed/,
  ],
] as const)('%j as tie points: %s', (ties, fault) => {
  const found = faultOfTies(ties);
  if (fault === null) expect(found).toBeNull();
  else expect(found).toMatch(fault);
});

test('tie points of people.yaml that are no clock are told with their line and left out', () => {
  const words = `recordings:
  - file: loop.wav
    sha256: ${SHA}
    bytes: 5
    media_type: audio/wav
    tie_points: [[0, 0], [1000, 2500]]
`;
  const { value, issues } = readPeopleFile(words, 'people.yaml');
  expect(issues).toMatchObject([
    { code: 'no-clock', severity: 'warning', file: 'people.yaml', line: 6 },
  ]);
  expect(issues[0]?.message).toContain('2.50 of its speed');
  expect(value?.recordings).toMatchObject([{ name: 'loop.wav', ties: [] }]);
});
