import { IssueTable } from '@/app/_components/tables/issue-table';
import type { IssueRow } from '@/lib/view/import-view';

type ReadingRemarksProps = Readonly<{ rows: readonly IssueRow[] }>;

/** What there is to say of the files, from reading them and from what they say; else nothing. */
export function ReadingRemarks({ rows }: ReadingRemarksProps) {
  if (rows.length === 0) return null;
  return (
    <section className="panel">
      <h2>Remarks on the files</h2>
      <IssueTable rows={rows} />
    </section>
  );
}
