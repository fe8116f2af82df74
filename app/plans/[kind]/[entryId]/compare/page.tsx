import type { Metadata } from 'next';
import Link from 'next/link';
import { notFound } from 'next/navigation';
import { HomeHeader } from '@/app/_components/shell/home-header';
import { requireKind, versionNumber } from '@/app/plans/versioned-kind';
import { loadEntry, loadVersionText } from '@/lib/server/queries/load-register';
import { compareView } from '@/lib/view/plans/compare-view';
import { entryHref } from '@/lib/view/plans/register-view';
import { ComparedFields } from '../_components/compared-fields';
import { VersionChoice } from '../_components/version-choice';

export const metadata: Metadata = { title: 'Two versions' };

type ComparePageProps = Readonly<{
  params: Promise<{ kind: string; entryId: string }>;
  searchParams: Promise<{ from?: string | string[]; to?: string | string[] }>;
}>;

export default async function ComparePage({ params, searchParams }: ComparePageProps) {
  const [{ kind: asked, entryId }, query] = await Promise.all([params, searchParams]);
  const kind = requireKind(asked);
  const entry = await loadEntry(kind, entryId);
  if (entry === null) notFound();
  const newest = entry.versions[0]?.number ?? 1;
  const from = versionNumber(query.from) ?? Math.max(1, newest - 1);
  const to = versionNumber(query.to) ?? newest;
  const load = (number: number) => loadVersionText(kind, entryId, number);
  const [before, after] = await Promise.all([load(from), load(to)]);
  if (before === null || after === null) notFound();
  return (
    <>
      <HomeHeader />
      <main className="page" id="main" tabIndex={-1}>
        <div className="page-head">
          <h1>
            {entry.title}: version {from} and version {to}
          </h1>
          <p>
            <Link href={entryHref(kind, entryId)}>Back to its versions</Link>
          </p>
        </div>
        <VersionChoice numbers={entry.versions.map(({ number }) => number)} from={from} to={to} />
        <ComparedFields view={compareView(kind, before.text, after.text)} from={from} to={to} />
      </main>
    </>
  );
}
