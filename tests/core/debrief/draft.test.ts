import { describe, expect, test } from 'vitest';
import { channelWords } from '@/lib/core/debrief/column-label';
import { type DebriefMaterial, makeMaterial } from '@/lib/core/debrief/debrief-material';
import type { DocNode } from '@/lib/core/debrief/document';
import { documentSchema } from '@/lib/core/debrief/document-schema';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { runsText } from '@/lib/core/debrief/html/html-runs';
import { keyWords } from '@/lib/core/debrief/key-words';
import { loadDocument } from '@/lib/core/debrief/load-document';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import type { ResolvedBlock, ResolvedDocument } from '@/lib/core/debrief/resolved';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import { sampleDerived } from '../../support/sample-derived';
import { countingIds, sampleMaterial } from '../../support/sample-material';
import { sampleReconstruction } from '../../support/sample-reconstruction';

const schema = documentSchema(BUILT_IN_BLOCKS);

function draft(material: DebriefMaterial): DocNode {
  return draftDebrief(material, BUILT_IN_BLOCKS, countingIds());
}

function resolved(material: DebriefMaterial): ResolvedDocument {
  return resolveDocument(draft(material), material, BUILT_IN_BLOCKS);
}

function withChange(change: Partial<Reconstruction>): DebriefMaterial {
  return makeMaterial({
    ...sampleMaterial,
    reconstruction: { ...sampleReconstruction, ...change },
  });
}

/** The words of the section with a title, live blocks left out. */
function section(document: ResolvedDocument, title: string): string {
  const start = document.blocks.findIndex(
    (block) => block.kind === 'heading' && runsText(block.runs) === title,
  );
  const rest = document.blocks.slice(start + 1);
  const end = rest.findIndex((block) => block.kind === 'heading');
  return wordsOf(end < 0 ? rest : rest.slice(0, end)).replaceAll('\u00a0', ' ');
}

function wordsOf(blocks: readonly ResolvedBlock[]): string {
  return blocks
    .map((block) => {
      if (block.kind === 'paragraph') return runsText(block.runs);
      return block.kind === 'list' ? block.items.map(wordsOf).join('\n') : '';
    })
    .join('\n');
}

describe('a draft', () => {
  test('fits the schema it will be edited in, and keeps every attribute', () => {
    const doc = draft(sampleMaterial);
    const loaded = loadDocument({ schema: 1, body: JSON.parse(JSON.stringify(doc)) }, schema);
    expect(loaded.issues).toEqual([]);
    expect(
      resolveDocument(loaded.value ?? { type: 'doc' }, sampleMaterial, BUILT_IN_BLOCKS),
    ).toEqual(resolved(sampleMaterial));
  });

  test('is the same document for the same ids', () => {
    expect(draft(sampleMaterial)).toEqual(draft(sampleMaterial));
  });

  test('resolves whole: nothing in it points at something that is not there', () => {
    const document = resolved(sampleMaterial);
    expect(document.blocks.filter((block) => block.kind === 'missing')).toEqual([]);
    expect(JSON.stringify(document)).not.toContain('[no figure');
  });

  test('fits its schema with fifty limits on one quantity, draws the tightest and says so', () => {
    const held = sampleReconstruction.rules.find(({ id }) => id === 'closing-rate');
    const rule = sampleReconstruction.ruleSet.find(({ id }) => id === 'closing-rate');
    if (held?.margin == null || rule === undefined) throw new Error('the sample has the rule');
    const { margin } = held;
    const ids = Array.from({ length: 50 }, (_, index) => `rate-${index}`);
    const limit = sampleDerived.columns.find(({ name }) => name === 'limit.closing-rate');
    if (limit === undefined) throw new Error('the sample has its limit');
    const material = makeMaterial({
      ...sampleMaterial,
      reconstruction: {
        ...sampleReconstruction,
        ruleSet: ids.map((id) => ({ ...rule, id })),
        rules: ids.map((id, index) => {
          return { ...held, id, margin: { ...margin, value: -index / 1000 } };
        }),
        exceedances: [],
      },
      derived: {
        ...sampleDerived,
        columns: [
          ...sampleDerived.columns.filter(({ name }) => !name.startsWith('limit.')),
          ...ids.map((id) => ({ ...limit, name: `limit.${id}` })),
        ],
      },
    });
    const body = JSON.parse(JSON.stringify(draft(material)));
    expect(loadDocument({ schema: 1, body }, schema).issues).toEqual([]);
    const traces = (body.content as DocNode[]).find(({ type }) => type === 'traceFigure')?.attrs;
    expect(traces?.caption).toContain('8 of 50 limits are drawn');
    expect(traces?.channels).toContain('limit.rate-49');
    expect(traces?.channels).not.toContain('limit.rate-0');
  });

  test('says in the summary what the figures say', () => {
    const text = section(resolved(sampleMaterial), 'Summary');
    expect(text).toContain('Contact was at 00:13:16.3 ± 0.4 s');
    expect(text).toContain('closing at 0.0741 ± 0.0009 m/s');
    expect(text).toContain(
      'Of six rules, two were met, one was broken, one is undecided, one did not apply and one could not be evaluated.',
    );
    expect(text).toContain(
      'Rule “Closing rate” was broken with a margin of −0.036 ± 0.003 m/s, two times for 6.7 ± 0.6 s in all.',
    );
  });

  test('tells when and where an event broke a rule, and holds the closing runs against the plan', () => {
    const rules = sampleReconstruction.rules.map((rule, index) =>
      index === 1
        ? { ...rule, id: 'cut-off', verdict: 'broken' as const, margin: null, atS: 150 }
        : rule,
    );
    const document = resolved(withChange({ rules, exceedances: [] }));
    expect(section(document, 'Summary')).toMatch(
      /Rule “Cut off” was broken at 00:02:30\.0, in the run from [\d.]+ m to [\d.]+ m of the step Approach\./,
    );
    const table = document.blocks.find(
      (block) => block.kind === 'table' && block.caption.startsWith('Closing rate against'),
    );
    const runs = sampleReconstruction.phases.filter(({ rateDeviation }) => rateDeviation !== null);
    expect(table?.kind === 'table' ? table.rows.length : 0).toBe(runs.length);
    expect(runs.length).toBeGreaterThan(0);
  });

  test('tells from when to when and where events came too late, after contact too', () => {
    const late = (fromS: number, toS: number) => {
      const rules = sampleReconstruction.rules.map((rule) =>
        rule.id === 'cabin'
          ? { ...rule, verdict: 'broken' as const, brokenOver: [{ fromS, toS }] }
          : rule,
      );
      return section(resolved(withChange({ rules })), 'Summary');
    };
    expect(late(150, 155)).toMatch(
      /Rule “Cabin” was broken with a margin of [^,]+, from 00:02:30\.0 to 00:02:35\.0, in the run from [\d.]+ m to [\d.]+ m of the step Approach\./,
    );
    expect(late(800, 805)).toContain('to 00:13:25.0, after contact.');
  });

  test('a rule met by absence alone says so beside the verdicts and among what is not known', () => {
    const message =
      'Rule “Cut off” is met because cut-off is logged nowhere, but no log was there.';
    const note = { code: 'absence-not-shown', severity: 'warning' as const, message };
    const document = resolved(withChange({ notes: [note] }));
    expect(section(document, 'Rules and margins')).toContain(message);
    expect(section(document, 'Not evaluated and not known')).toContain(message);
  });

  test('claims neither inside nor outside for a condition nearer to its limit than its uncertainty', () => {
    const text = section(resolved(sampleMaterial), 'Summary');
    expect(text).toMatch(
      /neither inside nor outside can be said: lateral offset \(0\.093 ± 0\.010 m\)/,
    );
    expect(text).not.toContain('All conditions measured lie inside');
  });

  test('lists what was not evaluated and what the data lack', () => {
    const text = section(resolved(sampleMaterial), 'Not evaluated and not known');
    expect(text).toContain(
      'Rule “Port pressure” was not evaluated: No source has a channel port_pressure.',
    );
    expect(text).toContain('Rule “Corridor” is undecided');
    expect(text).toContain('No row from 00:04:20.0 to 00:04:45.0 (telemetry.csv).');
    expect(text).toContain('3 rows of telemetry.csv could not be read and are left out.');
  });

  test('leaves withdrawn findings out and says so where there are none', () => {
    const findings = sampleMaterial.findings.map(
      (each) => ({ ...each, state: 'withdrawn' }) as const,
    );
    const document = resolved(makeMaterial({ ...sampleMaterial, findings }));
    expect(document.blocks.some((block) => block.kind === 'finding')).toBe(false);
    expect(section(document, 'Findings')).toContain('No finding has been written');
  });
});

describe('a draft of a session that lacks something', () => {
  test('without contact says that none was found and claims no conditions', () => {
    const document = resolved(withChange({ contact: null }));
    expect(section(document, 'Contact and capture')).toMatch(
      /^No contact was found in the data: the motion ends at 00:13:16.3, \S+ ± \S+ m from the port\.$/,
    );
    expect(section(document, 'Summary')).not.toMatch(/limits|closing at/);
  });

  test('without plan, rules or telemetry says each of them', () => {
    const bare: Partial<Reconstruction> = {
      plan: null,
      ruleSet: [],
      rules: [],
      steps: [],
      phases: [],
      exceedances: [],
      contact: null,
      sources: sampleReconstruction.sources.slice(2),
      dataQuality: [],
      notes: [],
    };
    const material = { ...withChange(bare), plan: null, ruleSet: null };
    const document = resolved({ ...material, derived: { tS: new Float64Array(), columns: [] } });
    const text = section(document, 'Not evaluated and not known');
    expect(text).toContain('There is no plan');
    expect(text).toContain('There are no rules');
    expect(text).toContain('There is no telemetry.');
    expect(section(document, 'Purpose')).toContain(
      'It rests on one source file, named with its hash',
    );
    expect(document.blocks.some((block) => block.kind === 'missing')).toBe(false);
  });

  test('with one rule and one step uses the singular', () => {
    const rules = sampleReconstruction.rules.slice(2, 3);
    const steps = sampleReconstruction.steps.slice(0, 1);
    const document = resolved(withChange({ rules, steps }));
    expect(section(document, 'Summary')).toContain('Of one rule, one was met.');
    expect(section(document, 'Steps, planned and flown')).toContain(
      'The one step of the plan was completed.',
    );
    expect(section(document, 'Purpose')).toContain('and one rule.');
  });

  test('a condition without value reads as not measured, never as inside', () => {
    const contact = sampleReconstruction.contact;
    if (contact === null) throw new Error('the sample has a contact');
    const { closing_rate, ...conditions } = contact.conditions;
    expect(closing_rate).toBeDefined();
    const document = resolved(withChange({ contact: { ...contact, conditions } }));
    const text = section(document, 'Summary');
    expect(text).toContain('at a closing rate that was not measured');
    expect(text).toContain('Not measured: closing rate.');
  });
});

test('a draft of no derived columns has no figure', () => {
  const document = resolved(
    makeMaterial({ ...sampleMaterial, derived: { ...sampleDerived, columns: [] } }),
  );
  expect(document.blocks.some((block) => block.kind === 'figure')).toBe(false);
});

test('keys and channels are told in words, columns of files by their own name', () => {
  expect(keyWords('contact.closing_rate_mps')).toBe('Contact: closing rate');
  expect(keyWords('phases[2].rate_deviation.peak_s')).toBe(
    'Phase 3: rate deviation, time of the peak',
  );
  expect(keyWords('rules[closing-rate].margin')).toBe('Rule Closing rate: margin');
  expect(channelWords('closing_rate')).toBe('Closing rate');
  expect(channelWords('attitude_error@telemetry.csv')).toBe('Attitude error (telemetry.csv)');
  expect(channelWords('telemetry.csv:roll_err')).toBe('roll_err (telemetry.csv)');
  expect(channelWords('attitude_error.roll')).toBe('Attitude error, roll');
  expect(channelWords('dp_x')).toBe('dp_x');
});
