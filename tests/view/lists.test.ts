import { describe, expect, test } from 'vitest';
import { editStateAfter, startEditing, wordsOfForm } from '@/lib/view/finding-edit';
import { findingsView, readFindingFilter } from '@/lib/view/findings-view';
import { dayOfZero, dayText, stampText, utcTimeText } from '@/lib/view/format-date';
import { importView, type WatchedJob } from '@/lib/view/import-view';
import { phasesView } from '@/lib/view/phases-view';
import { type ListedSession, sessionsView } from '@/lib/view/sessions-view';
import { sourcesView } from '@/lib/view/sources-view';
import { SAMPLE_SESSION_ID } from '../support/sample-figure';
import { sampleFindings } from '../support/sample-findings';
import { sampleReconstruction } from '../support/sample-reconstruction';

describe('phases', () => {
  const view = phasesView(sampleReconstruction, SAMPLE_SESSION_ID);

  test('steps stand in the order flown, skipped ones after the step before them', () => {
    expect(view.rows.map((row) => row.name)).toEqual([
      'Hold 100',
      'Hold 30',
      'Approach',
      'Unplanned hold',
      'Unplanned back-off',
    ]);
  });

  test('a step leads to its stretch of the timeline, and its planned length opens what states it', () => {
    const steps = view.rows.flatMap((row) => (row.kind === 'step' ? [row] : []));
    for (const { href, start, planned } of steps) {
      expect(href === null).toBe(start === null);
      expect(planned.method).toContain('the plan states');
    }
    expect(steps[0]?.href).toContain('/timeline?from=');
  });

  test('a step flown in pieces folds them, one flown whole has none', () => {
    const pieces = view.rows.map((row) => (row.kind === 'step' ? row.pieces.length : null));
    expect(pieces).toEqual([0, 0, 2, null, null]);
  });

  test('an unplanned run says during which step it came', () => {
    expect(view.rows.map((row) => (row.kind === 'unplanned' ? row.within : ''))).toEqual([
      '',
      '',
      '',
      'Approach',
      'Approach',
    ]);
  });

  test('only closing runs have a rate against plan', () => {
    expect(view.rates.map((rate) => rate.name)).toEqual([
      'Approach, piece 1 of 2',
      'Approach, piece 2 of 2',
    ]);
  });
});

describe('findings', () => {
  test('the address filters by kind and severity; unknown words filter nothing', () => {
    expect(readFindingFilter({ kind: 'anomaly', severity: 'x' })).toEqual({
      kind: 'anomaly',
      severity: null,
    });
    const view = findingsView(
      sampleFindings,
      { kind: 'observation', severity: null },
      SAMPLE_SESSION_ID,
    );
    expect(view.rows.map((row) => row.number)).toEqual([2]);
    expect(view.total).toBe(2);
    expect(view.severities.find((link) => link.label === 'minor')?.href).toBe(
      '/sessions/sample-session/findings?kind=observation&severity=minor',
    );
  });

  test('a conflict keeps one’s own words, shows the newer ones and takes up their version', () => {
    const [finding] = sampleFindings;
    if (finding === undefined) throw new Error('the sample has findings');
    const form = new FormData();
    for (const [name, value] of Object.entries(startEditing(finding).words)) form.set(name, value);
    form.set('title', 'My words');
    const state = editStateAfter(startEditing(finding), wordsOfForm(form), {
      ok: false,
      code: 'changed-meanwhile',
      message: 'changed',
      newer: { ...finding, title: 'Their words', version: 5 },
    });
    expect(state.words.title).toBe('My words');
    expect(state.newer?.words.title).toBe('Their words');
    expect(state.words.version).toBe('5');
  });

  test('what a form sends with CR LF is kept with line feeds', () => {
    const form = new FormData();
    form.set('seen', 'One.\r\n\r\nTwo.\rThree.');
    expect(wordsOfForm(form).seen).toBe('One.\n\nTwo.\nThree.');
  });

  test('another refusal keeps one’s own words and version', () => {
    const [finding] = sampleFindings;
    if (finding === undefined) throw new Error('the sample has findings');
    const start = startEditing(finding);
    const state = editStateAfter(
      start,
      { ...start.words, title: '' },
      { ok: false, code: 'invalid-input', message: 'A title is needed.', fields: { title: 'x' } },
    );
    expect(state).toMatchObject({ words: { title: '', version: '2' }, newer: null });
    expect(state.fields.title).toBe('x');
  });
});

describe('imports', () => {
  const job: WatchedJob = {
    id: 'j',
    kind: 'import',
    state: 'running',
    stage: 'reading telemetry.csv',
    bytesDone: 500_000,
    bytesTotal: 2_000_000,
    rowsDone: 1200,
    sessionId: null,
    cancelRequested: false,
    result: null,
  };

  test('a running import shows bytes, rows and the part done', () => {
    expect(importView(job)).toMatchObject({
      fraction: 0.25,
      bytes: '500 kB of 2.00 MB',
      rows: '1\u202f200 rows',
      cancelWords: 'Cancel the import',
      session: null,
    });
  });

  test('a replacement leads to what it changed, or back to the sources where it failed', () => {
    const replaced = { ...job, kind: 'replace', sessionId: 's1' };
    expect(importView(replaced)).toMatchObject({
      cancelWords: 'Cancel the replacement',
      session: null,
    });
    expect(importView({ ...replaced, state: 'done' }).session).toEqual({
      href: '/sessions/s1/sources/changes',
      words: 'See what it changed',
    });
    const failed = importView({ ...replaced, state: 'failed' });
    expect(failed.session?.href).toBe('/sessions/s1/sources');
    expect(failed.canImportAnother).toBe(false);
    expect(importView({ ...job, sessionId: 's1', state: 'failed' }).session).toBeNull();
  });

  test('a failed import lists every issue with its place and says that nothing was kept', () => {
    const view = importView({
      ...job,
      state: 'failed',
      result: {
        sessionId: null,
        wasThere: false,
        issues: [
          {
            code: 'unknown-key',
            severity: 'error',
            message: 'Unknown key.',
            file: 'plan.yaml',
            keyPath: 'plan.titel',
            line: 2,
            received: 'titel',
            expected: 'title',
          },
        ],
      },
    });
    expect(view.outcome).toContain('1 problem stood in the way. Nothing was kept');
    expect(view.issues[0]).toMatchObject({
      file: 'plan.yaml',
      line: '2',
      keyPath: 'plan.titel',
      found: 'titel',
      expected: 'title',
    });
  });

  test('the same files again lead to the session that was there', () => {
    const result = { sessionId: 's1', wasThere: true, issues: [] };
    expect(importView({ ...job, state: 'done', result })).toMatchObject({
      title: 'Already imported',
      session: { href: '/sessions/s1', words: 'Open the session' },
    });
  });
});

describe('sessions', () => {
  const session: ListedSession = {
    id: 's',
    version: 1,
    title: 'Heron 2 arrival',
    kind: 'flight',
    zeroUtc: '2016-03-08T09:12:30Z',
    isDemo: false,
    findingCount: 2,
    publicationCount: 1,
    outcome: {
      contactS: 796.3,
      verdictCounts: {
        met: 2,
        broken: 1,
        undecided: 0,
        'not applicable': 1,
        'not evaluated': 1,
      },
    },
  };

  test('verdicts that ask for attention are counted, met ones only where there are no others', () => {
    const [row] = sessionsView([session]);
    expect(row?.verdicts).toEqual([
      { verdict: 'broken', count: 1 },
      { verdict: 'not evaluated', count: 1 },
    ]);
    expect(row?.contact).toBe('00:13:16.3');
    expect(row?.day).toBe('8 Mar 2016');
  });

  test('a removal says what goes and what stays', () => {
    const [row] = sessionsView([session]);
    expect(row?.removal).toBe(
      'The session’s files, its 2 findings and its draft are removed for good. 1 published debrief of it stays.',
    );
  });
});

const NOTHING = { rows: 0, cells: 0, outOfOrder: 0 };

test('a source that covers part of the session has its bar and its gaps at the right place', () => {
  const kept = sampleReconstruction.sources.map(({ file, type, sha256 }) => ({
    file,
    type,
    sha256,
    bytes: 10,
    number: 1,
    lateAtIso: null,
    columns: [],
    stamping: { stamp: 'received', latencyS: 2.5, available: 'afterwards' } as const,
    setAside: type === 'telemetry' ? { rows: 3, cells: 12, outOfOrder: 0 } : NOTHING,
    stageSeconds: { hash: 0.125, data: 1.5 },
  }));
  const [telemetry, events] = sourcesView(kept, sampleReconstruction, SAMPLE_SESSION_ID);
  expect(telemetry?.gaps[0]?.from).toBeCloseTo(260 / 930.2, 9);
  expect(events?.coverage?.from).toBeCloseTo(95.2 / 930.2, 9);
  expect(telemetry?.faults.map((fault) => fault.kind)).toEqual(['gap', 'frozen']);
  expect(telemetry?.setAside).toEqual({
    text: '3 rows and 12 cells set aside, as CSV',
    href: `/sessions/${SAMPLE_SESSION_ID}/sources/rejects?file=telemetry.csv`,
  });
  expect(events?.setAside).toBeNull();
  expect(events?.stamps).toBe(
    'stamped when received, 2.50 s on its way until received, known afterwards',
  );
  expect(telemetry?.stages).toBe('1.63 s: hash 0.13 s, rows 1.50 s');
});

describe('dates', () => {
  test('days and stamps are written out', () => {
    expect(dayText('2016-03-08T09:12:30Z')).toBe('8 Mar 2016');
    expect(stampText('2016-03-09T10:30:00.000Z')).toBe('9 Mar 2016, 10:30 UTC');
    expect(dayText('not a date')).toBe('not a date');
  });

  test('the zero of the sample is read from its TAI nanoseconds', () => {
    const { zeroTaiNs } = sampleReconstruction.session;
    expect(dayOfZero(zeroTaiNs)).toBe('8 Mar 2016');
    expect(utcTimeText(zeroTaiNs, 796.3)).toBe('09:25:46.3 UTC');
  });
});
