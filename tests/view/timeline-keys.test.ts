import { expect, test } from 'vitest';
import { nextStopS, TIMELINE_KEY_HELP, timelineCommand } from '@/lib/view/timeline-keys';
import { barAt } from '@/lib/view/timeline-stops';

const plain = { shiftKey: false, ctrlKey: false, altKey: false, metaKey: false };

test('every key of the help does something', () => {
  const name: Record<string, string> = { '←': 'ArrowLeft', '→': 'ArrowRight' };
  for (const entry of TIMELINE_KEY_HELP)
    for (const written of entry.keys) {
      const parts =
        written === 'Page Up' || written === 'Page Down'
          ? [written.replace(' ', '')]
          : written.split(' ');
      const last = parts.at(-1) ?? '';
      const stroke = { ...plain, key: name[last] ?? last, shiftKey: parts[0] === 'Shift' };
      expect(timelineCommand(stroke), written).not.toBeNull();
    }
});

test('strokes of the browser and the system are left alone', () => {
  for (const key of ['ArrowLeft', 'f', '+', 'a'])
    for (const held of ['ctrlKey', 'altKey', 'metaKey'] as const)
      expect(timelineCommand({ ...plain, key, [held]: true })).toBeNull();
  for (const key of ['Tab', 'F5', 'constructor', 'toString'])
    expect(timelineCommand({ ...plain, key })).toBeNull();
});

test('Shift makes the cursor go finely', () => {
  expect(timelineCommand({ ...plain, key: 'ArrowRight', shiftKey: true })).toEqual({
    kind: 'move-cursor',
    direction: 1,
    pace: 'fine',
  });
});

test('the stretch at the cursor is the shortest one drawn there, a phase only without another', () => {
  const bar = (id: string, fromS: number, toS: number) => ({
    id,
    fromS,
    toS,
    label: id,
    detail: id,
  });
  const view = {
    phases: [{ ...bar('hold', 0, 100), motion: 'hold' as const, planned: true }],
    beyond: [bar('long', 10, 50), bar('short', 20, 30)],
    faults: [bar('instant', 25, 25)],
    remarks: [],
  };
  expect(barAt(view, 20)?.id).toBe('short');
  expect(barAt(view, 25)?.id).toBe('short');
  expect(barAt(view, 30.5)?.id).toBe('long');
  expect(barAt(view, 60)?.id).toBe('hold');
  expect(barAt(view, 101)).toBeNull();
});

test('the next stop is the nearest one strictly on that side', () => {
  expect(nextStopS([30, 10, 20], 10, 1)).toBe(20);
  expect(nextStopS([30, 10, 20], 20, -1)).toBe(10);
  expect(nextStopS([30, 10, 20], 30, 1)).toBeNull();
});
