import { describe, expect, test } from 'vitest';
import { proposeTable, type TableSketch } from '@/lib/core/intake/proposal/table-proposal';

function sketch(columns: Readonly<Record<string, readonly string[]>>): TableSketch {
  return {
    columns: Object.keys(columns),
    cells: Object.values(columns),
    units: null,
    blocks: [0],
    decimal: '.',
  };
}

describe('a table is proposed, never used unseen', () => {
  test('what could not be placed says why', () => {
    const { channels } = proposeTable(
      sketch({
        utc: ['2031-03-02T10:00:00Z', '2031-03-02T10:00:01Z'],
        x_m: ['20', '19'],
        note: ['ok', 'ok'],
        q17: ['1', '2'],
      }),
    );
    expect(channels.map(({ column, as }) => [column, as])).toEqual([
      ['x_m', 'position.x'],
      ['note', null],
      ['q17', null],
    ]);
    expect(channels[1]?.reason).toMatch(/words/);
    expect(channels[2]?.reason).toMatch(/no quantity that is known/);
  });

  test('of two columns that read alike the second is left open', () => {
    const { channels } = proposeTable(
      sketch({ t: ['0', '1'], range_m: ['5', '4'], rng_m: ['5', '4'] }),
    );
    expect(channels.map(({ as }) => as)).toEqual(['range', null]);
    expect(channels[1]?.reason).toMatch(/"range_m" has already/);
  });

  test('names in one column and values in another make the long layout', () => {
    const proposal = proposeTable(
      sketch({
        time: ['0', '0', '1', '1'],
        channel: ['x_m', 'vx_mps', 'x_m', 'vx_mps'],
        value: ['20', '-0.1', '19.9', '-0.1'],
      }),
    );
    expect(proposal).toMatchObject({ layout: 'long', nameColumn: 'channel', valueColumn: 'value' });
    expect(proposal.channels.map(({ column, as }) => [column, as])).toEqual([
      ['x_m', 'position.x'],
      ['vx_mps', 'velocity.x'],
    ]);
  });

  test('a column of units beside the names says their units, where it says one alone', () => {
    const { channels } = proposeTable(
      sketch({
        time: ['0', '0', '0', '1', '1', '1'],
        param: ['x', 'vx', 'y', 'x', 'vx', 'y'],
        val: ['20', '-0.1', '1', '19.9', '-0.1', '1'],
        unit: ['ft', 'FT/SEC', 'm', 'ft', 'FT/SEC', 'ft'],
      }),
    );
    expect(channels.map(({ column, unit, isUnitSaid }) => [column, unit, isUnitSaid])).toEqual([
      ['x', 'ft', true],
      ['vx', 'ft/s', true],
      ['y', 'm', false],
    ]);
  });
});
