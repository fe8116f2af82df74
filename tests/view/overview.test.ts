import { describe, expect, test } from 'vitest';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import { contactView } from '@/lib/view/contact-view';
import { answerView } from '@/lib/view/overview/answer-view';
import { dataLimitsView } from '@/lib/view/overview/data-limits-view';
import { overviewView } from '@/lib/view/overview/overview-view';
import { sentenceText } from '@/lib/view/sentence';
import { SAMPLE_SESSION_ID, sampleFigure } from '../support/sample-figure';
import { sampleFindings } from '../support/sample-findings';
import { sampleReconstruction } from '../support/sample-reconstruction';

const answerOf = (reconstruction: Reconstruction): string =>
  answerView(reconstruction, contactView(reconstruction, SAMPLE_SESSION_ID), SAMPLE_SESSION_ID)
    .map(sentenceText)
    .join(' ');

function withCondition(key: string, value: number, half: number): Reconstruction {
  const contact = sampleReconstruction.contact;
  if (contact === null) throw new Error('the sample has a contact');
  const figure = { ...sampleFigure(value, contact.conditions[key]?.unit ?? '', half) };
  return {
    ...sampleReconstruction,
    contact: { ...contact, conditions: { ...contact.conditions, [key]: figure } },
  };
}

describe('the answer in sentences', () => {
  test('it says when contact was, how fast, and how far the table was used', () => {
    const answer = answerOf(sampleReconstruction);
    expect(answer).toContain(
      'Contact at 00:13:16.3 ± 0.4 s (09:25:46.3 UTC), closing at 0.0741 ± 0.0009 m/s.',
    );
  });

  test('the whole approach is held against the planned lengths of all steps', () => {
    // 796.3 s flown; 90 + 60 + 500 = 650 s planned.
    expect(answerOf(sampleReconstruction)).toMatch(
      /The approach took 13 min 16\.3 s ± 0\.4 s, 2 min 26\.3 s ± 0\.4 s longer than planned/,
    );
  });

  test('where the time went adds up to the whole difference from the plan', () => {
    // By hand: 64.5 + 49.2 = 113.7 s in unplanned runs; 146.3 - 113.7 = 32.6 s in the steps, of
    // which Approach 219.8 + 344.4 - 500 = 64.2 s and Hold 100 118.4 - 90 = 28.4 s, Hold 30 -60 s.
    const answer = answerOf(sampleReconstruction);
    expect(answer).toMatch(/longer than planned: 1 min 53\.7 s ± 0\.\d s in runs that no step/);
    expect(answer).toMatch(
      /and 32\.6 s ± 0\.\d s more in the steps themselves, above all Approach \(1 min 4 s longer\)\./,
    );
  });

  test('unplanned runs are named with range and length, a back-off by where it ended', () => {
    const answer = answerOf(sampleReconstruction);
    expect(answer).toContain('an unplanned hold at 45.90 ± 0.03 m for 1 min 4.5 s ± 0.6 s');
    expect(answer).toContain('a back-off to 52.10 ± 0.03 m for 49.2 s ± 0.6 s');
    expect(answer).toContain('Hold 30 was not flown.');
  });

  test('rules that ask for attention are counted by verdict', () => {
    expect(answerOf(sampleReconstruction)).toContain(
      'Of six rules one was broken (Closing rate), one was undecided and one was not evaluated.',
    );
  });

  test('rules that were all met are said to be met', () => {
    const rules = sampleReconstruction.rules.map((rule) => ({ ...rule, verdict: 'met' as const }));
    expect(answerOf({ ...sampleReconstruction, rules })).toContain(
      'Of six rules all were met; none was broken.',
    );
    const notApplied = rules.map((rule) => ({ ...rule, verdict: 'not applicable' as const }));
    expect(answerOf({ ...sampleReconstruction, rules: notApplied })).toContain(
      'Of six rules none was met; none was broken.',
    );
  });

  test('where a log names contact after the data, the motion is said to end before contact', () => {
    const { contact } = sampleReconstruction;
    if (contact?.timeS.value == null) throw new Error('the sample has a contact');
    const timeS = { ...contact.timeS, value: contact.timeS.value + 60 };
    expect(answerOf({ ...sampleReconstruction, contact: { ...contact, timeS } })).toContain(
      'Before contact the motion ends at 00:13:16.3',
    );
  });

  test('without contact it says where the motion ends and calls nothing inside a table', () => {
    const answer = answerOf({ ...sampleReconstruction, contact: null });
    expect(answer).toContain(
      'No contact was found: the motion ends at 00:13:16.3 ± 0.4 s, 0.03 ± 0.03 m from the port.',
    );
    expect(answer).not.toContain('docking table');
  });

  test('data that break off are not called an approach shorter than planned', () => {
    const answer = answerOf({ ...sampleReconstruction, contact: null });
    expect(answer).toContain('The data cover 13 min 16.3 s ± 0.4 s of the approach');
    expect(answer).toContain('the plan gives its steps 10 min 50 s');
    // The approach that follows it in the plan was flown: the hold was left out.
    expect(answer).toContain('Hold 30 was not flown.');
    expect(answer).not.toContain('than planned');
  });

  test('a step after the last that was flown is not seen where the data break off', () => {
    const [hold100, hold30, approach] = sampleReconstruction.steps;
    const phases = sampleReconstruction.phases.filter(({ step }) => step !== approach?.id);
    const bare = { pieces: 0, startS: null, endS: null, durationS: null, durationDeviationS: null };
    if (hold100 === undefined || hold30 === undefined || approach === undefined)
      throw new Error('the sample has three steps');
    const steps = [hold100, hold30, { ...approach, ...bare, completed: false }];
    expect(answerOf({ ...sampleReconstruction, contact: null, phases, steps })).toContain(
      'Hold 30 and Approach were not seen in the data.',
    );
  });

  test('conditions that were not measured are counted', () => {
    const { contact } = sampleReconstruction;
    if (contact === null) throw new Error('the sample has a contact');
    const rate = contact.conditions.closing_rate;
    if (rate === undefined) throw new Error('the sample has a closing rate at contact');
    const conditions = { closing_rate: rate };
    expect(answerOf({ ...sampleReconstruction, contact: { ...contact, conditions } })).toContain(
      'One condition of the docking table was inside its limits. Six of the seven conditions were not measured.',
    );
  });

  test('a difference under a second is the plan, not a number', () => {
    const plannedS = sampleReconstruction.steps.reduce((sum, step) => sum + step.plannedS, 0);
    const [first, ...others] = sampleReconstruction.steps;
    if (first === undefined) throw new Error('the sample has steps');
    const even = { ...first, plannedS: first.plannedS + 796 - plannedS };
    expect(answerOf({ ...sampleReconstruction, steps: [even, ...others] })).toContain(
      'within a second of the plan',
    );
  });

  test('without a plan it says so and compares with nothing', () => {
    const answer = answerOf({ ...sampleReconstruction, plan: null, steps: [] });
    expect(answer).toContain('no plan');
    expect(answer).not.toContain('than planned');
  });

  test('a session without any motion still answers', () => {
    const answer = answerOf({
      ...sampleReconstruction,
      contact: null,
      evaluated: null,
      phases: [],
      steps: [],
      rules: [],
    });
    expect(answer).toBe(
      'No range was measured, so the approach could not be reconstructed. There are no rules to hold it against.',
    );
  });

  test('a condition over its limit is named as outside the table', () => {
    expect(answerOf(withCondition('lateral_rate', 0.06, 0.001))).toContain(
      'Outside the docking table: lateral rate over its limit.',
    );
  });
});

describe('what the data cannot say', () => {
  const texts = dataLimitsView(sampleReconstruction, SAMPLE_SESSION_ID).map(sentenceText);

  test('a gap, a frozen channel and rejected rows are said with their place', () => {
    expect(texts).toContain('Nothing in telemetry.csv from 00:04:20.0 for 25.0 s.');
    expect(texts).toContain('roll_err (telemetry.csv): frozen at 00:08:20.0 for 40.0 s.');
    expect(texts.some((text) => text.startsWith('3 rows of 9'))).toBe(true);
  });

  test('a rule without evidence stays open, with its reason', () => {
    expect(texts).toContain('Rule “Port pressure” stays open: the channel was not recorded.');
  });

  test('a clock that was fitted says from how many points', () => {
    expect(texts).toContain(
      'loop.vtt was put onto session time by 11 of 14 tie points: +37.4 ± 0.3 s.',
    );
  });

  test('many faults of a kind become one sentence', () => {
    const fault = sampleReconstruction.dataQuality[1];
    if (fault === undefined) throw new Error('the sample has two faults');
    const dataQuality = [0, 1, 2, 3].map((n) => ({ ...fault, startS: n * 10, endS: n * 10 }));
    const many = dataLimitsView({ ...sampleReconstruction, dataQuality }, SAMPLE_SESSION_ID);
    expect(many.map(sentenceText)[0]).toBe(
      'roll_err (telemetry.csv): 4 frozen stretches, the first at 00:00:00.0.',
    );
  });

  test('a condition that was not measured at contact is named', () => {
    const contact = sampleReconstruction.contact;
    if (contact === null) throw new Error('the sample has a contact');
    const { body_rate_roll: _, ...conditions } = contact.conditions;
    const limits = dataLimitsView(
      { ...sampleReconstruction, contact: { ...contact, conditions } },
      SAMPLE_SESSION_ID,
    );
    expect(limits.map(sentenceText)).toContain('Not measured at contact: roll rate.');
  });
});

test('the overview survives JSON unchanged and leaves withdrawn findings out', () => {
  const [first] = sampleFindings;
  if (first === undefined) throw new Error('the sample has findings');
  const view = overviewView({
    reconstruction: sampleReconstruction,
    findings: [...sampleFindings, { ...first, number: 3, state: 'withdrawn' }],
    track: null,
    sessionId: SAMPLE_SESSION_ID,
  });
  expect(JSON.parse(JSON.stringify(view))).toEqual(view);
  expect(view.findings.map((finding) => finding.number)).toEqual([1, 2]);
});

// Source: IERS leap-seconds.list as carried by the tz database: it expires on 28 June 2027.
test('UTC beyond the leap-second table is said to be uncertain, and only there', () => {
  const limitsAt = (zeroTaiNs: string) =>
    dataLimitsView(
      { ...sampleReconstruction, session: { ...sampleReconstruction.session, zeroTaiNs } },
      SAMPLE_SESSION_ID,
    )
      .map(sentenceText)
      .join(' ');
  expect(limitsAt(sampleReconstruction.session.zeroTaiNs)).not.toContain('UTC is not certain');
  expect(limitsAt('1900000000000000000')).toMatch(
    /UTC is not certain: 2030-03-17 lies beyond the leap-second table, which ends on 28 June 2027/,
  );
});
