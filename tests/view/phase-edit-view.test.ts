import { expect, test } from 'vitest';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import type { PhaseEdit } from '@/lib/core/session/phase-edit';
import { sequenceView } from '@/lib/view/as-flown-view';
import { editRefusal, entryPlace, readPhaseEdit } from '@/lib/view/phase-edit-form';
import { phaseEditRows, runOffers, startNote, stepNote } from '@/lib/view/phase-edit-view';
import { SAMPLE_SESSION_ID, sampleFigure } from '../support/sample-figure';
import { sampleReconstruction } from '../support/sample-reconstruction';

const EDIT: PhaseEdit = {
  kind: 'move-edge',
  edgeS: 60,
  before: 'hold',
  after: 'closing',
  toS: 65,
  sdS: 1,
  by: 'Ada',
  reason: 'the jets are heard later',
};
const computedS = sampleFigure(60, 's', 0.4);
const [first, second] = sampleReconstruction.phases;
if (first === undefined || second === undefined) throw new Error('the sample has phases');

function withEdit(outcome: 'applied' | 'not applied', fault: string | null): Reconstruction {
  const result = {
    edit: EDIT,
    outcome: { state: outcome, fault },
    what: 'Edge from Hold 100 to Approach',
    setS: sampleFigure(65, 's', 1.96),
    computedS,
    computedStep: null,
  };
  const phaseEdits = { results: [result], computedRuns: [], computedContactS: null };
  return { ...sampleReconstruction, phaseEdits };
}

const kept = (correction: PhaseEdit, undone: 'Ada' | null = null) => ({
  id: 'c1',
  version: 1,
  correction,
  author: 'Ada',
  createdAtIso: '2026-11-28T12:00:00.000Z',
  undone: undone === null ? null : { by: undone, atIso: '2026-11-28T13:00:00.000Z' },
});

test('each run but the first offers its start to be moved, named by where it was computed', () => {
  const [none, plain] = runOffers(sampleReconstruction);
  expect(none?.move).toBeNull();
  expect(plain?.move?.target).toEqual({
    kind: 'move-edge',
    edgeS: second.startS.value,
    before: first.motion,
    after: second.motion,
  });
  const moved = { ...second, startSet: { by: 'Ada', keyS: 60, computedS } };
  const [, again] = runOffers({ ...sampleReconstruction, phases: [first, moved] });
  expect(again?.move?.target).toMatchObject({ edgeS: 60 });
  expect(again?.move?.now).toMatch(/, set by hand\.$/);
});

test('the computed value stands beside the person’s', () => {
  expect(startNote({ startSet: { by: 'Ada', keyS: 60, computedS } })).toBe(
    'set by Ada; computed 00:01:00.0 ± 0.4 s'
      .replaceAll(' ±', '\u00a0±')
      .replace('± ', '±\u00a0')
      .replace('4 s', '4\u00a0s'),
  );
  expect(startNote({ startSet: { by: null, keyS: 60, computedS: null } })).toBe(
    'split here by hand',
  );
  expect(startNote({})).toBeNull();
  expect(stepNote({ stepSet: { by: 'Ada', computedStep: null } })).toBe(
    'named by Ada; matched to no step',
  );
});

test('the list says what was moved to where, what does not fit and why, and what came with the folder', () => {
  const [row] = phaseEditRows(withEdit('applied', null), [kept(EDIT)]);
  expect(row?.what.replaceAll('\u00a0', ' ')).toBe(
    'Edge from Hold 100 to Approach: moved to 00:01:05 ± 2 s; computed 00:01:00.0 ± 0.4 s',
  );
  expect(row?.fault).toBeUndefined();
  const unfit = withEdit('not applied', 'there is no edge');
  const naming: PhaseEdit = {
    kind: 'name-run',
    motion: 'closing',
    fromS: 100,
    toS: 200,
    step: null,
    by: 'Ada',
    reason: 'r',
  };
  const named = (fault: string | null) => {
    const made = withEdit(fault === null ? 'applied' : 'not applied', fault).phaseEdits;
    const results = (made?.results ?? []).map((each) => ({ ...each, edit: naming, what: 'Run' }));
    const phaseEdits = { results, computedRuns: [], computedContactS: null };
    return phaseEditRows({ ...sampleReconstruction, phaseEdits }, [kept(naming)])[0]?.what;
  };
  // What found no run was matched to nothing, and nothing is said of it.
  expect(named(null)).toBe('Run: no step; matched to no step');
  expect(named('no closing lasts so long')).toBe('Run: no step');
  expect(phaseEditRows(unfit, [kept(EDIT)])[0]?.fault).toBe('Not applied: there is no edge.');
  expect(phaseEditRows(unfit, [kept(EDIT, 'Ada')])[0]?.fault).toBeUndefined();
  const unkept = { kind: 'phase', words: 'as they are written' };
  const ofFolder = { ...kept(EDIT), author: '', createdAtIso: null, unkept };
  expect(phaseEditRows(unfit, [ofFolder])[0]).toMatchObject({
    undo: unkept,
    who: 'not named',
    when: "with the folder's people.yaml",
    fault: 'Not applied: there is no edge.',
  });
  expect(phaseEditRows(unfit, [kept(EDIT)], 'contact')).toEqual([]);
});

test('a time is read in any code the session knows; what is missing is said together', () => {
  const place = entryPlace(sampleReconstruction);
  const target = { kind: 'split-run', motion: 'hold' } as const;
  const read = (typed: Readonly<Record<string, string>>) => readPhaseEdit(typed, target, place);
  expect(read({ atS: '00:00:20', sdS: '', reason: 'x' }).word).toEqual({
    ...target,
    atS: 20,
    sdS: null,
    reason: 'x',
  });
  const zero = new Date(sampleReconstruction.session.zeroUtc);
  const utc = new Date(zero.getTime() + 20_000).toISOString().slice(11, 19);
  expect(read({ atS: `${utc} UTC`, sdS: '0,5', reason: 'x' }).word).toMatchObject({
    atS: 20,
    sdS: 0.5,
  });
  expect(read({ atS: 'soon', sdS: 'a bit' }).fields).toEqual({
    atS: 'Not a time: hh:mm:ss, seconds, or a clock time such as 09:30:44 UTC.',
    sdS: '“a bit” cannot be read. Expected seconds, such as 0.5.',
    reason: 'A reason is needed.',
  });
  expect(readPhaseEdit({ atS: '20', reason: 'x' }, { kind: 'contact' }, place).fields).toEqual({
    sdS: 'Nothing is given. Expected seconds, such as 0.5.',
    basis: 'What it rests on is needed.',
  });
});

test('a conflict says whose correction came first', () => {
  const refusal = { code: 'changed-meanwhile', message: '', newer: { version: 1, by: 'Ada' } };
  expect(editRefusal(refusal)).toMatch(/^Ada corrected phases or contact meanwhile, and nothing/);
  expect(editRefusal({ code: 'does-not-fit', message: 'It does not.' })).toBe('It does not.');
});

test('what nothing could have shown is not known, and says why', () => {
  const item = {
    key: 'capture-damping',
    kind: 'capture' as const,
    what: 'Damping',
    plannedS: null,
    seen: [],
    differenceS: null,
    note: null,
  };
  const sequence = [item, { ...item, notKnown: 'no telemetry follows first touch' }];
  const { rows } = sequenceView({ ...sampleReconstruction, sequence }, 'events', SAMPLE_SESSION_ID);
  expect(rows.map(({ absent }) => absent)).toEqual([
    'not seen',
    'not known: no telemetry follows first touch',
  ]);
});
