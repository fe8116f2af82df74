import type { Metadata } from 'next';
import { loadClock } from '@/lib/server/queries/load-clock';
import { clockView } from '@/lib/view/clock/clock-view';
import { chosenSource, sourceLinks } from '@/lib/view/clock/source-choice';
import { CorrectionList } from '../_components/correction-list';
import { ClockDrawing } from './_components/clock-drawing';
import { ClockFacts } from './_components/clock-facts';
import { ClockTable } from './_components/clock-table';
import { SourceChoice } from './_components/source-choice';
import { TiePointForm } from './_components/tie-point-form';

export const metadata: Metadata = { title: 'Clock' };

type ClockPageProps = Readonly<{
  params: Promise<{ sessionId: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}>;

export default async function ClockPage({ params, searchParams }: ClockPageProps) {
  const [{ sessionId }, { file }] = await Promise.all([params, searchParams]);
  const loaded = await loadClock(sessionId);
  const sources = loaded?.reconstruction.sources ?? [];
  const chosen = chosenSource(sources, typeof file === 'string' ? file : null);
  const view =
    loaded === null || chosen === null ? null : clockView({ ...loaded, source: chosen, sessionId });
  return (
    <div className="page">
      <SourceChoice links={sourceLinks(sources, sessionId, chosen)} sessionId={sessionId} />
      {view !== null && (
        <>
          <ClockFacts file={view.file} facts={view.facts} />
          <ClockDrawing drawing={view.drawing} />
          <ClockTable rows={view.rows} place={{ sessionId, source: view.file }} />
          <CorrectionList
            rows={view.corrections}
            sessionId={sessionId}
            empty="Nobody has corrected anything about this clock."
          />
          <TiePointForm view={view} place={{ sessionId, source: view.file }} />
        </>
      )}
    </div>
  );
}
