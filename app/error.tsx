'use client';

import { PlainPage } from './_components/shell/plain-page';

type ErrorPageProps = Readonly<{ error: Error & { digest?: string }; reset: () => void }>;

export default function ErrorPage({ error, reset }: ErrorPageProps) {
  return (
    <PlainPage title="This page could not be made">
      <p>
        Something failed on the server. Nothing was changed by it, and what was saved before is
        still saved.
      </p>
      {error.digest !== undefined && (
        <p className="soft">
          The server’s log has the details under <code>{error.digest}</code>.
        </p>
      )}
      <div className="row">
        <button className="button primary" type="button" onClick={reset}>
          Try again
        </button>
        <a className="button" href="/">
          All sessions
        </a>
      </div>
    </PlainPage>
  );
}
