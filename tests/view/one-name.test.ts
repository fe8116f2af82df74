/** One thing has one name, whichever screen or document shows it. */
import { describe, expect, test } from 'vitest';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { runsText } from '@/lib/core/debrief/html/html-runs';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import { contactView } from '@/lib/view/contact-view';
import { phasesView } from '@/lib/view/phases-view';
import { rulesView } from '@/lib/view/rules-view';
import { timelineView } from '@/lib/view/timeline';
import { SAMPLE_SESSION_ID } from '../support/sample-figure';
import { countingIds, sampleMaterial } from '../support/sample-material';
import { sampleReconstruction } from '../support/sample-reconstruction';

/** The first words of each row of a table of the draft. */
function debriefNames(caption: string): readonly string[] {
  const draft = draftDebrief(sampleMaterial, BUILT_IN_BLOCKS, countingIds());
  const { blocks } = resolveDocument(draft, sampleMaterial, BUILT_IN_BLOCKS);
  const table = blocks.find((block) => block.kind === 'table' && block.caption === caption);
  if (table?.kind !== 'table') throw new Error(`the draft has no table ${caption}`);
  return table.rows.map((row) => runsText(row[0]?.runs ?? []));
}

describe('names', () => {
  const timeline = timelineView({
    sessionId: SAMPLE_SESSION_ID,
    reconstruction: sampleReconstruction,
    channels: [],
    findings: [],
    annotations: [],
  });
  const phases = phasesView(sampleReconstruction, SAMPLE_SESSION_ID);

  test('a step is called the same on the timeline, among the phases and in the debrief', () => {
    const planned = timeline.plan.map((bar) => bar.label);
    const listed = phases.rows.filter((row) => row.kind === 'step').map((row) => row.name);
    expect(planned).toContain('Hold 30');
    expect([...listed].sort()).toEqual([...planned].sort());
    expect([...debriefNames('Steps, planned and flown')].sort()).toEqual([...planned].sort());
  });

  test('a piece of a step is called the same on the timeline and among the phases', () => {
    const pieces = phases.rows.flatMap((row) =>
      row.kind === 'step' ? row.pieces.map((piece) => piece.name) : [],
    );
    expect(pieces.length).toBeGreaterThan(1);
    expect(timeline.phases.map((bar) => bar.label)).toEqual(expect.arrayContaining(pieces));
  });

  test('a rule is called the same among the rules, on the timeline and in the debrief', () => {
    const { rules } = rulesView(sampleReconstruction, SAMPLE_SESSION_ID);
    const names = rules.map((rule) => rule.name);
    expect([...debriefNames('Rules: verdict and margin')].sort()).toEqual([...names].sort());
    for (const bar of timeline.beyond) expect(names).toContain(bar.label);
  });

  test('a condition at contact is called the same on the overview and in the debrief', () => {
    const contact = contactView(sampleReconstruction, SAMPLE_SESSION_ID);
    expect(contact?.rows.map((row) => row.label)).toEqual(debriefNames('Conditions at contact'));
  });
});
