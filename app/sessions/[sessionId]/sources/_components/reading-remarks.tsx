import { IssueTable } from '@/app/_components/tables/issue-table';
import type { IssueRow } from '@/lib/view/import-view';

type ReadingRemarksProps = Readonly<{ rows: readonly IssueRow[] }>;

/** What the import had to say of the files; nothing where it had nothing. */
export function ReadingRemarks({ rows }: ReadingRemarksProps) {
  if (rows.length === 0) return null;
  return (
    <section className="panel">
      <h2>Said while reading</h2>
      <IssueTable rows={rows} />
    </section>
  );
}
