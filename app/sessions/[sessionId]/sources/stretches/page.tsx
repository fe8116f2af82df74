import type { Metadata } from 'next';
import Link from 'next/link';
import { notFound } from 'next/navigation';
import { loadStretchCorrections } from '@/lib/server/queries/load-corrections';
import { loadKeptSources } from '@/lib/server/queries/load-kept-sources';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { stretchesView } from '@/lib/view/stretches-view';
import { CorrectionList } from '../_components/correction-list';
import { FaultTable } from '../_components/fault-table';
import { FaultPages } from './_components/fault-pages';
import { KeepForm } from './_components/keep-form';
import { StretchForm } from './_components/stretch-form';

export const metadata: Metadata = { title: 'Stretches' };

type StretchesPageProps = Readonly<{
  params: Promise<{ sessionId: string }>;
  searchParams: Promise<{ file?: string | string[]; page?: string | string[] }>;
}>;

export default async function StretchesPage({ params, searchParams }: StretchesPageProps) {
  const [{ sessionId }, { file, page }] = await Promise.all([params, searchParams]);
  const telemetry = (await loadKeptSources(sessionId)).filter(({ type }) => type === 'telemetry');
  const source = telemetry.find((each) => each.file === file) ?? telemetry[0];
  if (source === undefined) notFound();
  const view = stretchesView(await loadReconstruction(sessionId), {
    file: source.file,
    columns: source.columns.map(({ name }) => name),
    kept: await loadStretchCorrections(sessionId),
    sessionId,
    page: typeof page === 'string' ? page : undefined,
  });
  const place = { sessionId, source: view.file };
  return (
    <div className="page">
      <div className="page-head">
        <h1>Stretches of {view.file}</h1>
        <p>
          Samples that look faulty are in no figure. A person can keep them, or leave others out,
          with a reason; the values of the file never change.{' '}
          <Link href={`/sessions/${sessionId}/sources`}>Back to the sources</Link>
        </p>
      </div>
      <section className="panel">
        <FaultTable
          rows={view.faults}
          act={(row) => row.stretch !== null && <KeepForm row={row} place={place} />}
        />
        <FaultPages counts={view.counts} pages={view.pages} />
      </section>
      <StretchForm columns={view.columns} place={place} />
      <CorrectionList
        rows={view.corrections}
        sessionId={sessionId}
        empty="Nobody has kept or left out a stretch of this file."
      />
    </div>
  );
}
