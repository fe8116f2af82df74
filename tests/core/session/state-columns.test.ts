/** Columns of states as the session file explains them: what feeds the solution, what was commanded. */
import { expect, test } from 'vitest';
import { readSessionFile } from '@/lib/core/session/read-session-file';

const session = (block: string): string => `title: A
kind: flight
zero: 2026-03-02T10:00:00Z
sources:
  - file: nav.csv
    type: telemetry
    time: { column: t, code: elapsed-seconds }
    channels:
      x: { as: position.x, unit: m }
      state: { as: mode, unit: "1" }
${block}
`;

const MODES = `    modes:
      channel: state
      states:
        - { value: 1, name: hold, motion: hold }
        - { value: 2, name: manual }`;

test('modes are read with the motion that each commands, none where none is stated', () => {
  const { value, issues } = readSessionFile(session(MODES), 'session.yaml');
  expect(issues).toEqual([]);
  const [source] = value?.sources ?? [];
  expect(source?.type === 'telemetry' && source.declared.modes).toEqual({
    channel: 'state',
    states: [
      { value: 1, name: 'hold', motion: 'hold' },
      { value: 2, name: 'manual', motion: null },
    ],
  });
});

test.each([
  [MODES.replace('channel: state', 'channel: mood'), 'column-unknown', 12],
  [MODES.replace('value: 2', 'value: 1'), 'value-repeated', 15],
  [MODES.replace('motion: hold', 'motion: stop'), null, 14],
  ['    navigation: { selector: feed, states: [{ value: 1, name: A }] }', 'column-unknown', 11],
])(
  'a column or value that cannot be meant is one message with its line: %s',
  (block, code, line) => {
    const { issues } = readSessionFile(session(block), 'session.yaml');
    expect(issues).toHaveLength(1);
    expect(issues[0]).toMatchObject({ line, ...(code === null ? {} : { code }) });
  },
);
