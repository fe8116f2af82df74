import { expect, test } from 'vitest';
import { formatFigure } from '@/lib/view/format-figure';
import { sampleFigure } from '../support/sample-figure';

const NBSP = '\u00a0';
const plain = (text: string): string => text.replaceAll(NBSP, ' ');

test('the half-width decides the digits of the value', () => {
  expect(plain(formatFigure(sampleFigure(0.0741, 'm/s', 0.0009)).text)).toBe('0.0741 ± 0.0009 m/s');
  expect(plain(formatFigure(sampleFigure(45.913, 'm', 0.03)).text)).toBe('45.91 ± 0.03 m');
});

test('random and systematic parts are added in quadrature', () => {
  const figure = sampleFigure(0.0931, 'm', 0.003, { systematic: 0.004 });
  expect(plain(formatFigure(figure).text)).toBe('0.093 ± 0.005 m');
});

test('angles are shown in degrees, with their half-width', () => {
  const rad = Math.PI / 180;
  expect(plain(formatFigure(sampleFigure(0.21 * rad, 'rad', 0.02 * rad)).text)).toBe(
    '0.21 ± 0.02 deg',
  );
  expect(plain(formatFigure(sampleFigure(0.2 * rad, 'rad/s')).text)).toBe('0.200 deg/s');
});

test('a rule is shown in the unit it was written in', () => {
  const margin = sampleFigure(-0.0358, 'm/s', 0.0031);
  expect(plain(formatFigure(margin, { unit: 'mm/s', form: 'signed' }).text)).toBe(
    '\u221236 ± 3 mm/s',
  );
});

test('a count written in 1 is a whole number without a unit', () => {
  const margin = sampleFigure(-1, '1');
  expect(formatFigure(margin, { unit: '1', form: 'signed' }).text).toBe('\u22121');
});

test('a written unit of another quantity is not applied', () => {
  expect(plain(formatFigure(sampleFigure(2, 's', 0.4), { unit: 'mm' }).text)).toBe('2.0 ± 0.4 s');
});

test('clock forms keep the unit for the half-width only', () => {
  const time = sampleFigure(796.3, 's', 0.4);
  expect(plain(formatFigure(time, { form: 'time' }).text)).toBe('00:13:16.3 ± 0.4 s');
  const exact = sampleFigure(90, 's');
  expect(plain(formatFigure(exact, { form: 'duration' }).text)).toBe('01:30.0');
});

test('an exact figure shows no half-width', () => {
  expect(formatFigure(sampleFigure(0, 's', 0)).uncertainty).toBeNull();
});

test('a figure without a value is not known', () => {
  expect(formatFigure(sampleFigure(null, 'm', null, { reason: 'no samples' })).text).toBe(
    'not known',
  );
});

test('digits stop where they stop helping, and the half-width is then rounded up', () => {
  expect(plain(formatFigure(sampleFigure(0.0935971, 'm/s', 0.000014)).text)).toBe(
    '0.09360 ± 0.00002 m/s',
  );
  expect(plain(formatFigure(sampleFigure(0.2525, 'm', 0.0011)).text)).toBe('0.253 ± 0.002 m');
});

test('a small share whose uncertainty is not known keeps digits to be told by', () => {
  const shown = (percent: number): string =>
    plain(formatFigure(sampleFigure(percent / 100, '1'), { unit: '%' }).text);
  expect([81.6, 9.96, 3.75, 0.428, 0].map(shown)).toEqual([
    '82 %',
    '10.0 %',
    '3.8 %',
    '0.43 %',
    '0 %',
  ]);
});
