import Link from 'next/link';

type GoneUploadProps = Readonly<{
  import: Readonly<{ jobId: string; sessionId: string | null }> | null;
}>;

/** Files that were here: imported, discarded, or left for longer than they are kept. */
export function GoneUpload({ import: done }: GoneUploadProps) {
  return (
    <section className="panel stack">
      <h1>These files are not here any more</h1>
      <p>
        {done?.sessionId != null
          ? 'They were imported as described; the session has them now.'
          : 'They were discarded, or nobody described them for a week. Yours are as they were: send them again.'}
      </p>
      <div className="row">
        {done?.sessionId != null && (
          <Link className="button primary" href={`/sessions/${done.sessionId}`}>
            Open the session
          </Link>
        )}
        {done !== null && <Link href={`/import/${done.jobId}`}>What the import said</Link>}
        <Link href="/import">Import files</Link>
      </div>
    </section>
  );
}
