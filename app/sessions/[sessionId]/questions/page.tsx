import type { Metadata } from 'next';
import Link from 'next/link';
import { loadQuestionSheet } from '@/lib/server/queries/load-crew-questions';
import { questionSheetView, questionStart } from '@/lib/view/crew-questions-view';
import { quantityLabel } from '@/lib/view/strip-words';
import { AskForm } from './_components/ask-form';
import { QuestionCard } from './_components/question-card';
import { RemovedQuestions } from './_components/removed-questions';

export const metadata: Metadata = { title: 'Questions for the crew' };

type QuestionsPageProps = Readonly<{
  params: Promise<{ sessionId: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}>;

export default async function QuestionsPage({ params, searchParams }: QuestionsPageProps) {
  const { sessionId } = await params;
  const start = questionStart(await searchParams);
  const view = questionSheetView(await loadQuestionSheet(sessionId));
  const base = `/sessions/${encodeURIComponent(sessionId)}`;
  return (
    <div className="page">
      <div className="page-head">
        <h1>Questions for the crew</h1>
        <p>
          {view.summary}. To print, or to fill in here; an answer is kept word for word and never
          changed.
        </p>
        <Link className="button no-print" href={`${base}/timeline`}>
          Choose a stretch on the timeline
        </Link>
        <Link className="button no-print" href={`${base}/findings`}>
          Findings
        </Link>
      </div>
      <AskForm sessionId={sessionId} start={start} shown={start.channels.map(quantityLabel)} />
      {view.standing.map((question) => (
        <QuestionCard key={question.id} sessionId={sessionId} question={question} />
      ))}
      <RemovedQuestions sessionId={sessionId} questions={view.removed} />
    </div>
  );
}
