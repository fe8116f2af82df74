import { describe, expect, test } from 'vitest';
import { stripBands } from '@/lib/view/strip-bands';
import { timelineView } from '@/lib/view/timeline';
import { conflictText } from '@/lib/view/timeline-conflict';
import { windowEntries } from '@/lib/view/timeline-list';
import { type TimelineState, timelineReducer } from '@/lib/view/timeline-state';
import { stopsOf, textAtStop } from '@/lib/view/timeline-stops';
import { suggestFindings } from '@/lib/view/timeline-suggestions';
import { sampleDerived } from '../support/sample-derived';
import { sampleFigure } from '../support/sample-figure';
import { sampleAnnotations, sampleFindings } from '../support/sample-findings';
import { sampleReconstruction } from '../support/sample-reconstruction';

const DERIVED = sampleDerived.columns.map((column) => ({
  key: column.name,
  source: null,
  name: column.name,
  as: column.name,
  unit: column.unit,
}));
const axis = (name: string, as: string) => ({
  key: `telemetry.csv:${name}`,
  source: 'telemetry.csv',
  name,
  as,
  unit: 'rad',
});
const MEASURED = [
  axis('roll_err', 'attitude_error.roll'),
  axis('pitch_err', 'attitude_error.pitch'),
  axis('tank', 'tank'),
];

function view(channels = [...DERIVED, ...MEASURED], reconstruction = sampleReconstruction) {
  return timelineView({
    sessionId: 'sample-session',
    reconstruction,
    channels,
    findings: sampleFindings,
    annotations: sampleAnnotations,
  });
}

describe('the lanes', () => {
  test('runs that no step asked for are marked and named by their motion', () => {
    const { phases } = view();
    expect(phases.map((phase) => [phase.label, phase.planned])).toEqual([
      ['Hold 100', true],
      ['Approach, piece 1 of 2', true],
      ['hold', false],
      ['back-off', false],
      ['Approach, piece 2 of 2', true],
    ]);
  });

  test('the plan runs from the first flown start, step after step', () => {
    expect(view().plan.map((bar) => [bar.label, bar.fromS, bar.toS])).toEqual([
      ['Hold 100', 0, 90],
      ['Hold 30', 90, 150],
      ['Approach', 150, 650],
    ]);
  });

  test('a stretch beyond a limit says worst, limit and how long', () => {
    const [bar] = view().beyond;
    expect(bar?.detail).toMatch(/Closing rate beyond its limit for 3\.8/);
    expect(bar?.detail).toMatch(/worst 0\.410/);
  });

  test('a rule that events broke is drawn where they did, and named as broken', () => {
    const brokenOver = [{ fromS: 700, toS: 700 }];
    const explanation = 'crew-command was logged at 00:11:40.0.';
    const rules = sampleReconstruction.rules.map((rule) =>
      rule.id === 'cut-off'
        ? { ...rule, verdict: 'broken' as const, explanation, brokenOver }
        : rule,
    );
    const drawn = view(undefined, { ...sampleReconstruction, rules });
    const bar = drawn.beyond.at(-1);
    expect(bar).toMatchObject({ label: 'Cut off broken', fromS: 700, toS: 700 });
    expect(bar?.detail).toContain('crew-command was logged at 00:11:40.0');
    expect(stopsOf(drawn, 'exceedance')).toContain(700);
    const titles = suggestFindings(drawn, { fromS: 700, toS: 700 }).map(({ title }) => title);
    expect(titles).toContain('Cut off broken');
    expect(stripBands(drawn).filter(({ tone }) => tone === 'beyond')).toHaveLength(
      sampleReconstruction.exceedances.length,
    );
  });

  // By hand: telemetry from 0 to its coverage's end, the mode 1 before 100 s, 3 to 150 s, 1 after.
  test('a channel of states is drawn as named stretches from its first row to its last', () => {
    const [like] = sampleReconstruction.sources;
    const change = (atS: number, from: number, to: number) => ({
      key: `state-${atS}`,
      kind: 'state' as const,
      what: `Mode ${from} to ${to}`,
      plannedS: null,
      differenceS: null,
      note: null,
      seen: [
        {
          kind: 'discrete' as const,
          timeS: sampleFigure(atS, 's', 0.1),
          words: '',
          source: like?.file ?? '',
          line: null,
        },
      ],
      change: { source: like?.file ?? '', channel: 'mode', from, to },
    });
    const sequence = [change(100, 1, 3), change(150, 3, 1)];
    const drawn = view(undefined, { ...sampleReconstruction, sequence });
    const [lane, ...others] = drawn.states;
    expect(others).toEqual([]);
    const [firstS, lastS] = like?.coverage ?? [Number.NaN, Number.NaN];
    expect(lane?.bars.map(({ label, fromS, toS }) => [label, fromS, toS])).toEqual([
      ['mode 1', firstS, 100],
      ['mode 3', 100, 150],
      ['mode 1', 150, lastS],
    ]);
    const cut = [
      change(100, 1, 3),
      { ...change(150, 3, 1), note: 'further changes are not listed' },
    ];
    const unsure = view(undefined, { ...sampleReconstruction, sequence: cut });
    expect(unsure.states[0]?.bars.map(({ label }) => label)).toEqual(['mode 1', 'mode 3']);
    const named = sequence.map((item) => ({
      ...item,
      change: {
        ...item.change,
        ...(item.change.to === 3 ? { toName: 'manual' } : { fromName: 'manual' }),
      },
    }));
    const told = view(undefined, { ...sampleReconstruction, sequence: named });
    expect(told.states[0]?.bars.map(({ label }) => label)).toEqual(['mode 1', 'manual', 'mode 1']);
  });

  test('withdrawn findings are not drawn, the others and annotations stand in time order', () => {
    const withdrawn = sampleFindings.map((finding) => ({
      ...finding,
      state: 'withdrawn' as const,
    }));
    const all = view().remarks.map((bar) => bar.fromS);
    expect(all).toEqual([...all].sort((a, b) => a - b));
    expect(all.length).toBe(3);
    const rest = timelineView({
      sessionId: 's',
      reconstruction: sampleReconstruction,
      channels: [],
      findings: withdrawn,
      annotations: sampleAnnotations,
    });
    expect(rest.remarks.map((bar) => bar.kind)).toEqual(['annotation']);
  });

  test('the view can be sent: it is the same after JSON', () => {
    expect(JSON.parse(JSON.stringify(view()))).toEqual(view());
  });

  test('everything drawn in a window stands in its list', () => {
    const { entries, more } = windowEntries(view(), { fromS: 195, toS: 300 });
    expect(more).toBe(0);
    expect(entries.map((entry) => entry.kind).sort()).toEqual([
      'annotation',
      'beyond limit',
      'data fault',
      'finding',
      'phase',
      'said',
      'said',
    ]);
  });
});

describe('the strips', () => {
  test('closing rate stands with its plan and limit, attitude errors together, in degrees', () => {
    const { strips, defaultIds, absent } = view().catalogue;
    expect(defaultIds).toEqual([
      'range',
      'closing_rate',
      'lateral_offset',
      'attitude_error@telemetry.csv',
    ]);
    expect(absent).toEqual([]);
    const rate = strips.find((strip) => strip.id === 'closing_rate');
    expect(rate?.series.map((series) => [series.key, series.role])).toEqual([
      ['closing_rate', 'measured'],
      ['planned_closing_rate', 'plan'],
      ['limit.closing-rate', 'limit'],
    ]);
    const attitude = strips.find((strip) => strip.id === 'attitude_error@telemetry.csv');
    expect(attitude?.unit).toBe('deg');
    const looks = attitude?.series.map((series) => `${series.colour} ${series.dash}`) ?? [];
    expect(new Set(looks).size).toBe(looks.length);
  });

  test('a usual strip that no source has is said so', () => {
    const { catalogue } = view([]);
    expect(catalogue.strips).toEqual([]);
    expect(catalogue.absent.length).toBe(4);
    expect(catalogue.absent.at(-1)).toBe('Attitude error: no source of this session has it.');
  });
});

describe('acts', () => {
  const session = { fromS: 0, toS: 1000 };
  const start: TimelineState = {
    session,
    window: session,
    selection: null,
    strips: ['a', 'b', 'c'],
    heights: {},
    axis: { kind: 'session' },
    sought: '',
    sheet: null,
  };

  test('an edge set past the other takes it along', () => {
    const first = timelineReducer(start, { kind: 'set-edge', edge: 'start', tS: 50 });
    expect(first.selection).toEqual({ fromS: 50, toS: 50 });
    const second = timelineReducer(first, { kind: 'set-edge', edge: 'end', tS: 80 });
    expect(second.selection).toEqual({ fromS: 50, toS: 80 });
    const third = timelineReducer(second, { kind: 'set-edge', edge: 'start', tS: 90 });
    expect(third.selection).toEqual({ fromS: 90, toS: 90 });
  });

  test('a selection backwards or outside is put right', () => {
    const selected = timelineReducer(start, {
      kind: 'select',
      selection: { fromS: 5000, toS: -10 },
    });
    expect(selected.selection).toEqual({ fromS: 0, toS: 1000 });
  });

  test('strips are put on at the end, taken off, and moved by one', () => {
    const on = timelineReducer(start, { kind: 'toggle-strip', id: 'd' });
    expect(on.strips).toEqual(['a', 'b', 'c', 'd']);
    const moved = timelineReducer(on, { kind: 'move-strip', id: 'd', by: -1 });
    expect(moved.strips).toEqual(['a', 'b', 'd', 'c']);
    expect(timelineReducer(moved, { kind: 'move-strip', id: 'a', by: -1 }).strips).toEqual(
      moved.strips,
    );
    expect(timelineReducer(moved, { kind: 'toggle-strip', id: 'a' }).strips).toEqual([
      'b',
      'd',
      'c',
    ]);
  });

  test('stops are the starts of stretches, with their words', () => {
    expect(stopsOf(view(), 'exceedance')).toEqual([200, 700]);
    expect(textAtStop(view(), 'event', 796.4)).toBe('contact');
  });

  test('a refused save shows what the row says now; a plain refusal shows nothing', () => {
    expect(conflictText({ version: 3, title: 'Newer', seen: '' })).toEqual({
      version: 3,
      fields: [
        ['title', 'Newer'],
        ['what was seen', ''],
      ],
    });
    expect(conflictText(undefined)).toBeNull();
    expect(conflictText({ title: 'no version' })).toBeNull();
  });
});

test('words that stand in two logs are drawn once, with the event’s name', () => {
  const said = {
    timeS: 10.2,
    endS: null,
    source: 'loop.vtt',
    line: 1,
    event: null,
    text: 'Hold.',
    speaker: 'Flight',
  };
  const event = { ...said, timeS: 10, source: 'events.csv', event: 'hold-command' };
  const events = [event, said, { ...said, timeS: 30 }, { ...said, speaker: 'Crew' }];
  const { log } = timelineView({
    sessionId: 's',
    reconstruction: { ...sampleReconstruction, events },
    channels: [],
    findings: [],
    annotations: [],
  });
  expect(log.map((mark) => [mark.tS, mark.speaker, mark.text])).toEqual([
    [10, 'Flight', 'hold-command: Hold.'],
    [10.2, 'Crew', 'Hold.'],
    [30, 'Flight', 'Hold.'],
  ]);
});
