import { expect, test } from 'vitest';
import {
  formatDuration,
  formatSessionTime,
  formatSignedDuration,
  formatStretch,
  spokenDuration,
} from '@/lib/view/format-time';

test('session time is hours, minutes and seconds', () => {
  expect(formatSessionTime(2585.7)).toBe('00:43:05.7');
  expect(formatSessionTime(90061, 0)).toBe('25:01:01');
});

test('rounding carries into the minute instead of printing 60 s', () => {
  expect(formatSessionTime(59.96)).toBe('00:01:00.0');
  expect(formatDuration(3599.97)).toBe('1:00:00.0');
});

test('a time before zero has a true minus sign, a rounded zero has none', () => {
  expect(formatSessionTime(-12)).toBe('\u221200:00:12.0');
  expect(formatSessionTime(-0.04)).toBe('00:00:00.0');
});

test('a duration grows hours only when it has them', () => {
  expect(formatDuration(424.5)).toBe('07:04.5');
  expect(formatDuration(4984.5)).toBe('1:23:04.5');
});

test('a difference of durations is signed', () => {
  expect(formatSignedDuration(124.5)).toBe('+02:04.5');
  expect(formatSignedDuration(-33.4)).toBe('\u221200:33.4');
  expect(formatSignedDuration(0.01)).toBe('00:00.0');
});

test('a sentence names the units', () => {
  expect(spokenDuration(42)).toBe('42 s');
  expect(spokenDuration(708)).toBe('11 min 48 s');
  expect(spokenDuration(3730)).toBe('1 h 2 min 10 s');
});

test('a stretch of no length is one time', () => {
  expect(formatStretch(12, 12)).toBe('00:00:12.0');
  expect(formatStretch(12, 90)).toBe('00:00:12.0 to 00:01:30.0');
});

test('what is no time is said in words', () => {
  expect(formatSessionTime(Number.NaN)).toBe('not known');
});
