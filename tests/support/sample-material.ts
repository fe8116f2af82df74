/** The material of a debrief from the hand-made reconstruction, and ids that count. */
import { type DebriefMaterial, makeMaterial } from '@/lib/core/debrief/debrief-material';
import { sampleDerived } from './sample-derived';
import { sampleFindings } from './sample-findings';
import { sampleReconstruction } from './sample-reconstruction';

export const sampleMaterial: DebriefMaterial = makeMaterial({
  reconstruction: sampleReconstruction,
  derived: sampleDerived,
  findings: sampleFindings,
  plan: { title: 'Straight-in arrival', number: 2, sha256: 'd4'.repeat(32) },
  ruleSet: { title: 'Arrival rules', number: 1, sha256: 'e5'.repeat(32) },
  invented: true,
});

/** Gives `block-1`, `block-2`, ... */
export function countingIds(): () => string {
  let count = 0;
  return () => {
    count += 1;
    return `block-${count}`;
  };
}
