import { describe, expect, test } from 'vitest';
import type { SequenceItem } from '@/lib/core/reconstruction/reconstruction';
import { contactLimitTable } from '@/lib/core/session/contact-limit-table';
import type { Rule } from '@/lib/core/session/rule';
import { contactView } from '@/lib/view/contact-view';
import { coverageLines, nearMissRows } from '@/lib/view/near-miss-view';
import { describeRule } from '@/lib/view/rule-description';
import { readVerdict, rulesByRoom, rulesView, verdictChoices } from '@/lib/view/rules-view';
import { SAMPLE_SESSION_ID, sampleFigure } from '../support/sample-figure';
import { sampleReconstruction } from '../support/sample-reconstruction';

const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

/**
 * Source: International Docking System Standard (IDSS) Interface Definition Document, Revision E,
 * October 2016, Table 3.3.1.1-2, as transcribed: closing rate 0.05 to 0.10 m/s, lateral rate
 * 0.04 m/s, lateral misalignment 0.10 m.
 */
describe('conditions at contact against the docking table', () => {
  function standing(condition: string, value: number, half: number | null): string | undefined {
    const contact = sampleReconstruction.contact;
    const unit = contact?.conditions[condition]?.unit ?? '';
    if (contact === null) throw new Error('the sample has a contact');
    const conditions = { ...contact.conditions, [condition]: sampleFigure(value, unit, half) };
    const view = contactView(
      { ...sampleReconstruction, contact: { ...contact, conditions } },
      SAMPLE_SESSION_ID,
    );
    return view?.rows.find((row) => row.condition === condition)?.standing;
  }

  test.each([
    ['closing_rate', 0.049, 'below'],
    ['closing_rate', 0.05, 'inside'],
    ['closing_rate', 0.1, 'inside'],
    ['closing_rate', 0.101, 'above'],
    ['lateral_rate', 0.04, 'inside'],
    ['lateral_rate', 0.0401, 'above'],
    ['lateral_offset', 0.1, 'inside'],
  ])('%s of %d is %s', (condition, value, word) => {
    expect(standing(condition, value, null)).toBe(word);
  });

  test('a limit inside the 95 % interval is too close to call', () => {
    expect(standing('lateral_offset', 0.0931, 0.0104)).toBe('too close to call');
    expect(standing('closing_rate', 0.0505, 0.001)).toBe('too close to call');
  });

  test('a small value whose interval reaches below zero is inside', () => {
    expect(standing('lateral_rate', 0.0004, 0.0009)).toBe('inside');
  });

  test('how much of a limit was used opens the measured value behind it, as unsure as that is', () => {
    const contact = sampleReconstruction.contact;
    if (contact === null) throw new Error('the sample has a contact');
    const of = (value: number | null) => {
      const rate = sampleFigure(value, 'm/s', 0.002);
      const conditions = { ...contact.conditions, lateral_rate: rate };
      return contactView(
        { ...sampleReconstruction, contact: { ...contact, conditions } },
        SAMPLE_SESSION_ID,
      )?.rows.find(({ condition }) => condition === 'lateral_rate');
    };
    const row = of(-0.01);
    // By hand: 0.010 and 0.002 of 0.04 m/s.
    expect([row?.used?.value, row?.used?.uncertainty, row?.used?.unit]).toEqual(['25', '5', '%']);
    expect(row?.usedPercent).toBeCloseTo(25, 9);
    expect(row?.used?.sources).toEqual(row?.measured?.sources);
    expect(row?.used?.method).toMatch(/^Size over upper limit\. /);
    expect(of(null)?.used).toBeNull();
  });

  test('a limit of zero is judged, but has no gauge and no parts', () => {
    const contact = sampleReconstruction.contact;
    const plan = sampleReconstruction.plan;
    if (contact === null || plan === null) throw new Error('the sample has both');
    const contactLimits = contactLimitTable('Own', 'Own', { lateral_rate_mps: [null, 0] });
    const [row] =
      contactView(
        { ...sampleReconstruction, plan: { ...plan, contactLimits } },
        SAMPLE_SESSION_ID,
      )?.rows.filter(({ condition }) => condition === 'lateral_rate') ?? [];
    expect(row).toMatchObject({ gauge: null, usedPercent: null, used: { value: 'not known' } });
    expect(row?.used?.reason).toBe('The upper limit is zero, which has no parts.');
    expect(row?.measured?.value).not.toBe('not known');
  });

  test('what the values are formed from is said: means of a second, or positions where no velocity was', () => {
    const formed = (from: number) => {
      const contact = sampleReconstruction.contact;
      if (contact === null) throw new Error('the sample has a contact');
      const rate = sampleFigure(0.07, 'm/s', 0.002, { from, to: 796.3 });
      const conditions = { ...contact.conditions, closing_rate: rate };
      const reconstruction = { ...sampleReconstruction, contact: { ...contact, conditions } };
      return contactView(reconstruction, SAMPLE_SESSION_ID)?.formed;
    };
    expect(formed(795.3)).toMatch(/^Means over the last second of data before contact/);
    expect(plain(formed(783.3) ?? '')).toMatch(
      /^Estimated from up to 13 s of positions, since no velocity was measured: closing rate\. The others/,
    );
  });

  test('the gauge shows the lower bound where the table has one', () => {
    const rows = contactView(sampleReconstruction, SAMPLE_SESSION_ID)?.rows;
    const rate = rows?.find((row) => row.condition === 'closing_rate');
    expect(rate?.gauge?.low).toBeCloseTo((rate?.gauge?.high ?? 0) / 2, 12);
    expect(plain(rate?.limitText ?? '')).toBe('0.05 to 0.10 m/s');
  });
});

describe('rules', () => {
  const view = rulesView(sampleReconstruction, SAMPLE_SESSION_ID);

  test('the worst come first and every verdict keeps its word', () => {
    expect(view.rules.map((rule) => rule.verdict)).toEqual([
      'broken',
      'undecided',
      'not evaluated',
      'met',
      'met',
      'not applicable',
    ]);
  });

  test('each verdict leads to its own rules, and what is asked of the state stays in the address', () => {
    const choices = verdictChoices(view, 'broken', 2058);
    expect(choices.map(({ verdict, count, isChosen }) => [verdict, count, isChosen])).toEqual([
      ['broken', 1, true],
      ['undecided', 1, false],
      ['not evaluated', 1, false],
      ['met', 2, false],
      ['not applicable', 1, false],
      [null, 6, false],
    ]);
    expect(choices[2]?.href).toBe('?verdict=not+evaluated&at=2058');
    expect(verdictChoices(view, null, null).at(-1)).toMatchObject({ href: '?', isChosen: true });
    expect(readVerdict('not evaluated')).toBe('not evaluated');
    expect([readVerdict('nonsense'), readVerdict(['met', 'broken'])]).toEqual([null, null]);
  });

  test('a bar has the sign of its margin and the interval around it', () => {
    for (const rule of view.rules) {
      if (rule.bar === null) continue;
      expect(Math.sign(rule.bar.at)).toBe(rule.margin?.value.startsWith('+') ? 1 : -1);
      expect(rule.bar.from).toBeLessThanOrEqual(rule.bar.at);
      expect(rule.bar.to).toBeGreaterThanOrEqual(rule.bar.at);
      expect(Math.max(Math.abs(rule.bar.from), Math.abs(rule.bar.to))).toBeLessThanOrEqual(1);
    }
  });

  test('an undecided rule’s interval spans the limit', () => {
    const undecided = view.rules.find((rule) => rule.verdict === 'undecided');
    expect(undecided?.bar?.from).toBeLessThan(0);
    expect(undecided?.bar?.to).toBeGreaterThan(0);
  });

  test('every rule is counted once, by whether it has a verdict and why not', () => {
    const lines = coverageLines(sampleReconstruction);
    expect(lines.map(({ state, rules, share }) => [state, rules, share])).toEqual([
      ['has a verdict', [], 4 / 6],
      ['no motion was matched to its step', ['Hold 30 length'], 1 / 6],
      ['the channel was not recorded', ['Port pressure'], 1 / 6],
    ]);
    expect(lines.map(({ count }) => count)).toEqual(['4 of 6', '1 of 6', '1 of 6']);
    expect(lines[2]?.words).toContain('record the channel');
  });

  test('a margin in half-widths has no sign where the rule held, and no digits nobody needs', () => {
    const [first] = sampleReconstruction.rules;
    if (first === undefined) throw new Error('the sample has rules');
    const of = (id: string, value: number) => ({
      ...first,
      id,
      verdict: 'met' as const,
      margin: sampleFigure(value, 'm', 0.01),
      instantMargin: null,
    });
    const rules = [of('far', 1.1764), of('near', 0.0312)];
    const rows = nearMissRows({ ...sampleReconstruction, rules }, SAMPLE_SESSION_ID);
    // By hand: 0.0312 / 0.01 and 1.1764 / 0.01.
    expect(rows.map(({ halfWidths }) => halfWidths?.text)).toEqual(['3.1', '118']);
    // Beyond ten half-widths it is no near miss and is folded away.
    expect(rows.map(({ isNear, isClear }) => [isNear, isClear])).toEqual([
      [true, false],
      [false, true],
    ]);
  });

  test('an exceedance names its phase and leads to its stretch, selected', () => {
    expect(view.exceedances[0]?.phase).toBe('Approach, piece 1 of 2');
    expect(view.exceedances[0]?.href).toBe(
      '/sessions/sample-session/timeline?from=195&to=208.8&sel=200_203.8',
    );
  });

  test('a rule in words gives limit, place and persistence with their units', () => {
    const texts = sampleReconstruction.ruleSet.map((rule) => plain(describeRule(rule)));
    expect(texts[1]).toBe(
      'lateral offset at most a cone of 3 deg half angle, no less than 0.25 m, between 1.5 and 80 m along the axis, counted when it lasts 2 s',
    );
    expect(texts[2]).toBe('event cabin-configured before the start of Approach');
    expect(texts[4]).toBe('Hold 30 lasts at most 600 s');
  });

  test('a state is told by its name where the session has one', () => {
    const rule: Rule = {
      ...{ kind: 'band', id: 'a', statement: '', unit: 'm/s', persistsS: 0 },
      ...{ quantity: { kind: 'named', name: 'closing_rate' }, high: null },
      low: { kind: 'constant', value: 0.05 },
      when: { rangeM: null, axialM: null, step: null, mode: { channel: 'mode', is: [5, 6] } },
    };
    const name = (_: string, value: number) => (value === 5 ? 'final approach' : null);
    expect(describeRule(rule, name)).toContain('while mode is final approach or 6');
  });

  test('the name of a state comes from the changes that were seen', () => {
    const [rule] = sampleReconstruction.ruleSet;
    if (rule?.kind !== 'quantity') throw new Error('the first rule is of a quantity');
    const seen: SequenceItem = {
      ...{ key: 'state-0-0', kind: 'state', what: 'Mode 4 to final approach' },
      ...{ plannedS: null, seen: [], differenceS: null, note: null },
    };
    const mode = { channel: 'mode', is: [5, 6] };
    const asked: Rule = {
      ...{ kind: 'band', id: rule.id, statement: '', unit: rule.unit, persistsS: 0 },
      ...{ quantity: { kind: 'named', name: rule.quantity }, high: rule.limit, low: null },
      when: { rangeM: null, axialM: null, step: null, mode },
    };
    const change = { source: 'a.csv', channel: 'mode', from: 4, to: 5, toName: 'final approach' };
    const elsewhere = { ...change, channel: 'pump', to: 6, toName: 'on' };
    const view = rulesView(
      {
        ...sampleReconstruction,
        ruleSet: [asked],
        sequence: [
          { ...seen, change },
          { ...seen, change: elsewhere },
        ],
      },
      SAMPLE_SESSION_ID,
    );
    expect(view.rules.find(({ id }) => id === rule.id)?.description).toContain(
      'while mode is final approach or 6',
    );
  });

  test('rules for strips stand in the order of the screen', () => {
    const shown = rulesView(sampleReconstruction, SAMPLE_SESSION_ID).rules.map(({ id }) => id);
    expect(rulesByRoom(sampleReconstruction).map(({ id }) => id)).toEqual(shown);
    expect(shown).not.toEqual(sampleReconstruction.ruleSet.map(({ id }) => id));
  });

  test('a limit is written in the unit its author chose', () => {
    const base = sampleReconstruction.ruleSet[5];
    if (base?.kind !== 'quantity') throw new Error('the sixth rule is a quantity rule');
    const rule: Rule = { ...base, limit: { kind: 'constant', value: Math.PI / 180 }, unit: 'deg' };
    expect(plain(describeRule(rule))).toContain('at most 1 deg');
  });
});
