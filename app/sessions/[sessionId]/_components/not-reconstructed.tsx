import Link from 'next/link';

type NotReconstructedProps = Readonly<{ title: string; sessionId: string }>;

/** Says that the files are there and the reconstruction is not, and where to look. */
export function NotReconstructed({ title, sessionId }: NotReconstructedProps) {
  return (
    <div className="page">
      <div className="page-head">
        <h1>{title}</h1>
      </div>
      <section className="panel stack">
        <h2>This session is not reconstructed yet</h2>
        <p>
          Its files are kept. As soon as the reconstruction is computed this page shows it; the
          files and what was read from them stand under Sources.
        </p>
        <div className="row">
          <Link className="button" href={`/sessions/${encodeURIComponent(sessionId)}/sources`}>
            Sources
          </Link>
        </div>
      </section>
    </div>
  );
}
