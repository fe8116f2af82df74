/**
 * Messages of the standards' annexes: a few lines of each, and what the standards say of them.
 *
 * Source: CCSDS 503.0-B-2 annex E (tracking data) and 502.0-B-3 annex G (orbit ephemerides).
 */
import { describe, expect, test } from 'vitest';
import { readCcsdsMessage } from '@/lib/core/intake/formats/ccsds-message';
import { ccsdsTable } from '@/lib/core/intake/formats/ccsds-table';
import { formatInstant } from '@/lib/core/time/format';

const HEAD = 'CCSDS_TDM_VERS = 2.0\nCREATION_DATE = 2005-191T23:00:00\nORIGINATOR = NASA\n';

function tableOf(text: string) {
  const { value, issues } = readCcsdsMessage(text, 'message');
  if (value === null) throw new Error(issues.map(({ message }) => message).join('; '));
  const table = ccsdsTable(value, 'message');
  return { message: value, issues: [...issues, ...table.issues], table };
}

function tdm(metadata: string, data: string): string {
  return `${HEAD}META_START\n${metadata}\nMETA_STOP\nDATA_START\n${data}\nDATA_STOP\n`;
}

describe('tracking data', () => {
  test('figure E-4: ranging in range units has no metre and is said to be modulo', () => {
    const { table, issues } = tableOf(
      tdm(
        'TIME_SYSTEM = UTC\nPARTICIPANT_1 = DSS-24\nPATH = 1,2,1\nRANGE_MODULUS = 2.0e+26\nRANGE_UNITS = RU',
        'RANGE = 2005-191T00:31:51 39242998.5151986\nPR_N0 = 2005-191T00:31:51 28.52538',
      ),
    );
    expect(table.columns).toEqual([
      { name: 'RANGE', unit: 'RU' },
      { name: 'PR_N0', unit: 'dBHz' },
    ]);
    // Day 191 of 2005 is 10 July.
    expect(formatInstant({ taiNs: table.rows[0]?.taiNs ?? 0n }, 'UTC', { decimals: 0 })).toContain(
      '2005-07-10T00:31:51',
    );
    expect(table.rows.map(({ cells }) => cells)).toEqual([['39242998.5151986', '28.52538']]);
    expect(issues.map(({ code, line }) => [code, line])).toEqual([['range-modulus', 8]]);
  });

  test('section 3.5: without RANGE_UNITS a range is in km, and each segment has its own time system', () => {
    const segment = (system: string) =>
      `META_START\nTIME_SYSTEM = ${system}\nPARTICIPANT_1 = A\nMETA_STOP\nDATA_START\nRANGE = 2017-01-01T00:00:36 1.5\nDATA_STOP\n`;
    const { table } = tableOf(`${HEAD}${segment('UTC')}${segment('TAI')}`);
    expect(table.columns).toEqual([{ name: 'RANGE', unit: 'km' }]);
    // TAI - UTC was 36 s until the end of 2016 and is 37 s from 2017 on (IERS Bulletin C 52).
    const [tai, utc] = table.rows;
    expect(Number((utc?.taiNs ?? 0n) - (tai?.taiNs ?? 0n)) / 1e9).toBe(37);
  });

  test('a time system that cannot be converted is refused by name', () => {
    const { value, issues } = readCcsdsMessage(
      tdm('TIME_SYSTEM = TDB', 'RANGE = 2005-191T00:31:51 1'),
      'm',
    );
    expect(value).toBeNull();
    expect(issues).toMatchObject([{ code: 'time-system-unknown', line: 5, file: 'm' }]);
    expect(issues[0]?.message).toContain('TDB');
  });

  test('an observation type that the standard does not have is listed and kept', () => {
    const { table, issues } = tableOf(tdm('TIME_SYSTEM = UTC', 'LAMP_STATE = 2005-191T00:31:51 1'));
    expect(table.columns).toEqual([{ name: 'LAMP_STATE', unit: null }]);
    expect(issues).toMatchObject([{ code: 'observation-unknown', severity: 'warning', line: 8 }]);
  });

  test.each([
    ['RANGE = 2005-191T00:31:51 1 2', 'line-not-readable'],
    ['RANGE = 2005-191T00:31:51 one', 'not-a-number'],
    ['RANGE = 2005-191 1', 'stamp-not-readable'],
  ])('%s is refused with its line: %s', (line, code) => {
    const { value, issues } = readCcsdsMessage(tdm('TIME_SYSTEM = UTC', line), 'm');
    expect(value).toBeNull();
    expect(issues).toMatchObject([{ code, line: 8 }]);
  });
});

const STATE = '2019-12-28T21:29:07.267 -2432.166 -063.042 1742.754 7.33702 -3.495867 -1.041945';
const OEM = `CCSDS_OEM_VERS = 3.0\nCREATION_DATE = 2019-11-04T17:22:31\nORIGINATOR = NASA/JPL\nMETA_START
OBJECT_NAME = MARS GLOBAL SURVEYOR\nTIME_SYSTEM = UTC\nMETA_STOP\nCOMMENT after the manoeuvre\n${STATE}
COVARIANCE_START\nEPOCH = 2019-12-28T21:29:07.267\n3.3313494e-04\nCOVARIANCE_STOP\n`;

describe('orbit ephemerides', () => {
  test('figure G-13: a state has km and km/s, comments are kept, covariances are counted', () => {
    const { message, table } = tableOf(OEM);
    expect(message.segments[0]).toMatchObject({
      comments: ['after the manoeuvre'],
      covarianceCount: 1,
    });
    expect(table.columns.map(({ name, unit }) => `${name} ${unit}`)).toEqual([
      'X km',
      'Y km',
      'Z km',
      'X_DOT km/s',
      'Y_DOT km/s',
      'Z_DOT km/s',
    ]);
    expect(table.rows[0]?.cells.map(Number)).toEqual([
      -2432.166, -63.042, 1742.754, 7.33702, -3.495867, -1.041945,
    ]);
  });

  test('the XML form of 505.0-B-3 gives the table of the KVN form', () => {
    const numbers = STATE.split(' ').slice(1);
    const names = ['X', 'Y', 'Z', 'X_DOT', 'Y_DOT', 'Z_DOT'];
    const cells = names.map((name, at) => `<${name}>${numbers[at]}</${name}>`).join('');
    const xml = `<?xml version="1.0"?>\n<oem id="CCSDS_OEM_VERS" version="3.0"><header><ORIGINATOR>NASA/JPL</ORIGINATOR></header><body><segment>
<metadata><OBJECT_NAME>MARS GLOBAL SURVEYOR</OBJECT_NAME><TIME_SYSTEM>UTC</TIME_SYSTEM></metadata>
<data><stateVector><EPOCH>2019-12-28T21:29:07.267</EPOCH>${cells}</stateVector></data></segment></body></oem>`;
    const [one, other] = [tableOf(xml).table, tableOf(OEM).table];
    expect(one.columns).toEqual(other.columns);
    expect(one.rows.map(({ taiNs, cells: texts }) => [taiNs, texts])).toEqual(
      other.rows.map(({ taiNs, cells: texts }) => [taiNs, texts]),
    );
  });
});

test.each([
  ['<!DOCTYPE oem [<!ENTITY a "b">]><oem/>', 'xml-doctype'],
  ['<oem><body></oem>', 'xml-not-well-formed'],
  [`<oem>${'<a>'.repeat(40)}`, 'xml-too-deep'],
  ['<kml></kml>', 'message-unknown'],
  ['CCSDS_CDM_VERS = 1.0\n', 'message-unknown'],
])('%s is refused: %s', (text, code) => {
  const { value, issues } = readCcsdsMessage(text, 'm.xml');
  expect(value).toBeNull();
  expect(issues.map((issue) => issue.code)).toEqual([code]);
});
