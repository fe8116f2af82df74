/** The demo's debrief: drafted like any other, with its reviewers' words added, and published. */
import { z } from 'zod';
import { bulletList, heading, paragraph, valueNode } from '@/lib/core/debrief/build-document';
import { type DocNode, nodeText } from '@/lib/core/debrief/document';
import { draftDebrief } from '../commands/draft-debrief';
import { publishDebrief } from '../commands/publish-debrief';
import { saveDebrief } from '../commands/save-debrief';
import { newId } from '../new-id';
import { loadDocument } from '../queries/load-document';
import { type CommandResult, runCommand } from '../run-command';

export const demoDebriefSchema = z.object({
  title: z.string(),
  invented: z.string(),
  summary: z.string(),
  course: z.string(),
  data: z.string(),
  /** What an earlier flight led to, each with a value of this one. */
  lessons: z.array(z.object({ before: z.string(), key: z.string(), after: z.string() })),
  outlook: z.string(),
});

export type DemoDebrief = z.infer<typeof demoDebriefSchema>;

/** The heading of the draft that each text stands under. */
const PLACES: readonly (readonly [heading: string, text: Exclude<keyof DemoDebrief, 'lessons'>])[] =
  [
    ['Purpose', 'invented'],
    ['Summary', 'summary'],
    ['What was flown', 'course'],
    ['Data quality and clocks', 'data'],
  ];
const LAST_HEADING = 'Caution';
/** Lessons stand before this one. */
const AFTER_LESSONS = 'What was flown';

/** Publishes the debrief of the demo's session. Throws when a command refuses: that is a bug. */
export async function publishDemoDebrief(sessionId: string, texts: DemoDebrief): Promise<void> {
  await done(runCommand(draftDebrief, { sessionId }));
  const draft = await loadDocument(sessionId);
  if (draft === null) throw new Error('the demo has no draft');
  const body = withTexts(draft.body as DocNode, texts);
  const { title } = texts;
  const saved = await done(
    runCommand(saveDebrief, { sessionId, version: draft.version, title, body }),
  );
  const published = await runCommand(publishDebrief, { sessionId, version: saved.version, title });
  // A team that asks for approvals has the demo's debrief as a draft.
  if (!published.ok && published.code !== 'approval-missing') await done(published);
}

async function done<Data>(
  result: CommandResult<Data> | Promise<CommandResult<Data>>,
): Promise<Data> {
  const answer = await result;
  if (!answer.ok) throw new Error(`the demo was refused: ${answer.message}`);
  return answer.data;
}

function lessonNodes({ lessons }: DemoDebrief): readonly DocNode[] {
  if (lessons.length === 0) return [];
  const items = lessons.map(({ before, key, after }) => [before, valueNode(key), after]);
  return [heading(newId(), 1, 'Lessons of the flight before'), bulletList(newId, items)];
}

function withTexts(doc: DocNode, texts: DemoDebrief): DocNode {
  const content = (doc.content ?? []).flatMap((node): DocNode[] => {
    if (node.type !== 'heading') return [node];
    const words = nodeText(node);
    const place = PLACES.find(([title]) => title === words);
    const lessons = words === AFTER_LESSONS ? lessonNodes(texts) : [];
    if (place !== undefined) return [...lessons, node, paragraph(newId(), [texts[place[1]]])];
    if (words !== LAST_HEADING) return [node];
    return [heading(newId(), 1, 'Outlook'), paragraph(newId(), [texts.outlook]), node];
  });
  return { ...doc, content };
}
