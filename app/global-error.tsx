'use client';

import './globals.css';
import { PlainPage } from './_components/shell/plain-page';

type GlobalErrorProps = Readonly<{ error: Error & { digest?: string }; reset: () => void }>;

/** Stands in for the whole document when even the frame of the page failed. */
export default function GlobalError({ error, reset }: GlobalErrorProps) {
  return (
    <html lang="en">
      <body>
        <PlainPage title="Wakeline could not show this page">
          <p>Something failed before the page was ready. What was saved before is still saved.</p>
          {error.digest !== undefined && (
            <p className="soft">
              The server’s log has the details under <code>{error.digest}</code>.
            </p>
          )}
          <button className="button primary" type="button" onClick={reset}>
            Try again
          </button>
        </PlainPage>
      </body>
    </html>
  );
}
