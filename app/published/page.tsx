import type { Metadata } from 'next';
import { findPublications } from '@/lib/server/queries/find-publications';
import { loadRequiredRoles } from '@/lib/server/queries/load-approvals';
import { loadNumberScheme } from '@/lib/server/queries/load-number-scheme';
import { publishedRows } from '@/lib/view/debrief/published-view';
import { HomeHeader } from '../_components/shell/home-header';
import { PublishedTable } from './_components/published-table';
import { RegisterSearch } from './_components/register-search';
import { RolesForm } from './_components/roles-form';
import { SchemeForm } from './_components/scheme-form';

export const metadata: Metadata = { title: 'Published' };

type PublishedPageProps = Readonly<{
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}>;

/** The register: all that was published, what stands and what does not. */
export default async function PublishedPage({ searchParams }: PublishedPageProps) {
  const asked = (await searchParams).q;
  const query = (typeof asked === 'string' ? asked : '').slice(0, 200).trim();
  const [found, scheme, roles] = await Promise.all([
    findPublications(query),
    loadNumberScheme(),
    loadRequiredRoles(),
  ]);
  return (
    <>
      <HomeHeader />
      <main id="main" tabIndex={-1} className="page">
        <div className="page-head">
          <h1>Published debriefs</h1>
          <p>
            Frozen records. A published debrief never changes; a revision supersedes it, or it is
            withdrawn.
          </p>
        </div>
        <RegisterSearch query={query} />
        <PublishedTable rows={publishedRows(found)} query={query} />
        <SchemeForm scheme={scheme} />
        <RolesForm roles={roles} />
      </main>
    </>
  );
}
