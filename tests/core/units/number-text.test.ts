import { describe, expect, test } from 'vitest';
import {
  countWord,
  decimalsFor,
  formatCount,
  formatNumber,
  formatSigned,
} from '@/lib/core/units/number-text';

describe('decimals follow the half-width', () => {
  test.each([
    [0.4, 1],
    [0.57, 1],
    [0.14, 2],
    [0.0031, 3],
    [0.00095, 4],
    [0.98, 1],
    // Rounds up to 0.1, which starts with 1 and keeps two digits.
    [0.096, 2],
    [3, 0],
    [12, 0],
    [310, 0],
  ])('%d is written with %d decimals', (halfWidth, decimals) => {
    expect(decimalsFor(halfWidth, 7)).toBe(decimals);
  });

  test.each([null, 0, Number.NaN, Number.POSITIVE_INFINITY])('%s falls back', (halfWidth) => {
    expect(decimalsFor(halfWidth, 3)).toBe(3);
  });

  test('a tiny half-width never asks for more than nine decimals', () => {
    expect(decimalsFor(3e-14, 2)).toBe(9);
  });
});

test('a negative number carries a true minus sign', () => {
  expect(formatNumber(-0.036, 3)).toBe('\u22120.036');
});

test('a value that rounds to zero carries no sign', () => {
  expect(formatNumber(-0.0004, 3)).toBe('0.000');
  expect(formatSigned(0.0004, 3)).toBe('0.000');
});

test('a difference above zero carries a plus', () => {
  expect(formatSigned(23.2, 1)).toBe('+23.2');
  expect(formatSigned(-23.2, 1)).toBe('\u221223.2');
});

test('what is no number is said in words', () => {
  expect(formatNumber(Number.NaN, 2)).toBe('no value');
});

test('counts are grouped by three', () => {
  expect(formatCount(1204000)).toBe('1\u202f204\u202f000');
  expect(formatCount(999)).toBe('999');
});

test('small counts are words in a sentence', () => {
  expect(countWord(0)).toBe('no');
  expect(countWord(3)).toBe('three');
  expect(countWord(14)).toBe('14');
});
