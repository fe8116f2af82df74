/** The command line's debrief: draft, resolve, record and page in one go, for nobody's editing. */
import { crewQuestionOfFolder } from '../findings/crew-question';
import type { PollState } from '../reconstruction/poll-state';
import type { DerivedColumns, Reconstruction } from '../reconstruction/reconstruction';
import type { CrewQuestionWords } from '../session/crew-question-words';
import { askedPolls, statedPolls } from './asked-polls';
import { type MaterialParts, makeMaterial } from './debrief-material';
import { draftDebrief } from './draft';
import { renderHtml } from './html/render-html';
import { BUILT_IN_BLOCKS } from './nodes/built-in-blocks';
import { makeRecord, sealRecord } from './record';
import { resolveDocument } from './resolve';

type Beside = Readonly<{
  crewQuestions?: readonly CrewQuestionWords[] | undefined;
  stateAt: (atS: number) => PollState;
}>;

/**
 * A page that stands alone: what was flown, which rules held, contact, what is not known.
 *
 * It is a draft made by the program, not a published debrief: number and revision are 0, and the
 * page says so. The same reconstruction gives the same page.
 *
 * @param reconstruction a computed reconstruction
 * @param derived its columns, for the figures
 * @param beside what it takes from the folder: questions to the crew, and what was known at an
 *   instant (session time, s)
 * @returns a whole HTML document that loads nothing
 */
export function renderQuickDebrief(
  reconstruction: Reconstruction,
  derived: DerivedColumns,
  { crewQuestions = [], stateAt }: Beside,
): string {
  const parts: MaterialParts = {
    reconstruction,
    derived,
    findings: [],
    crewQuestions: crewQuestions.map(crewQuestionOfFolder),
    plan:
      reconstruction.plan === null
        ? null
        : { title: reconstruction.plan.title, number: null, sha256: null },
    ruleSet:
      reconstruction.ruleSet.length === 0
        ? null
        : { title: 'Rules of the session folder', number: null, sha256: null },
    invented: false,
  };
  let count = 0;
  const nextId = () => {
    count += 1;
    return `block-${count}`;
  };
  const draft = draftDebrief(makeMaterial(parts), BUILT_IN_BLOCKS, nextId);
  const places = askedPolls(draft, BUILT_IN_BLOCKS, reconstruction);
  const states = new Map(places.map(({ atS }) => [atS, stateAt(atS)] as const));
  const material = makeMaterial({ ...parts, polls: statedPolls(places, states) });
  const resolved = resolveDocument(draft, material, BUILT_IN_BLOCKS);
  const record = makeRecord(resolved, material, {
    number: 0,
    revision: 0,
    title: reconstruction.session.title,
    publishedAtIso: '',
    publishedBy: '',
    previousSha256: null,
  });
  return renderHtml(sealRecord(record), []);
}
