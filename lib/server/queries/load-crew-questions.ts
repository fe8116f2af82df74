/** The sheet of questions to the crew: each with the traces and the words of its stretch. */
import { cache } from 'react';
import type { CrewQuestion } from '@/lib/core/findings/crew-question';
import { wordsMeanwhile } from '@/lib/core/findings/words-meanwhile';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import { type AskedQuestion, besideStretch, questionStrips } from '@/lib/view/crew-questions-view';
import { rulesByRoom } from '@/lib/view/rules-view';
import { type StripCatalogue, stripCatalogue } from '@/lib/view/timeline-strips';
import { localActor } from '../actor';
import { CREW_QUESTION_COLUMNS, crewQuestionFromRow } from '../crew-question-row';
import { db } from '../db';
import { loadChannels } from './load-channels';
import { loadEnvelope } from './load-envelope';
import { loadReconstruction } from './load-reconstruction';

/** Points across a trace of the sheet. */
const PIXELS = 400;

/** All of a session, in the order of their stretches, removed ones among them. */
export const loadCrewQuestions = cache(async (sessionId: string): Promise<CrewQuestion[]> => {
  const rows = await db().crewQuestion.findMany({
    where: { sessionId, session: { teamId: localActor().teamId } },
    orderBy: [{ fromS: 'asc' }, { number: 'asc' }],
    select: CREW_QUESTION_COLUMNS,
  });
  return rows.map(crewQuestionFromRow);
});

type Known = Readonly<{ catalogue: StripCatalogue; reconstruction: Reconstruction | null }>;

async function withTraces(question: CrewQuestion, known: Known): Promise<AskedQuestion> {
  const { sessionId, fromS, toS, channels } = question.anchor;
  const strips = questionStrips(known.catalogue, channels);
  const keys = strips.flatMap((strip) => strip.series.map(({ key }) => key));
  const window = besideStretch(question.anchor);
  const traces = await loadEnvelope(sessionId, { keys, ...window, pixels: PIXELS });
  const { reconstruction } = known;
  const words = reconstruction === null ? [] : wordsMeanwhile(reconstruction, { fromS, toS });
  return { question, strips, traces, words };
}

/** The sheet, one question after the other so that many do not read the store at once. */
export async function loadQuestionSheet(sessionId: string): Promise<readonly AskedQuestion[]> {
  const questions = await loadCrewQuestions(sessionId);
  if (questions.length === 0) return [];
  const [channels, reconstruction] = await Promise.all([
    loadChannels(sessionId),
    loadReconstruction(sessionId),
  ]);
  const catalogue = stripCatalogue(
    channels,
    reconstruction === null ? [] : rulesByRoom(reconstruction),
  );
  const known = { catalogue, reconstruction };
  const sheet: AskedQuestion[] = [];
  for (const question of questions) sheet.push(await withTraces(question, known));
  return sheet;
}
