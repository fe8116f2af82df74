'use client';

import Link from 'next/link';
import { useState } from 'react';
import type { ImportView } from '@/lib/view/import-view';
import { cancelJobAction } from '../../actions';

type JobWaysProps = Readonly<{ jobId: string; view: ImportView }>;

/** Where to go from a job, and the way to stop it. */
export function JobWays({ jobId, view }: JobWaysProps) {
  const [problem, setProblem] = useState<string | null>(null);
  const { session, quickLookHref, describeHref, cancelWords } = view;

  async function cancel(): Promise<void> {
    const result = await cancelJobAction(jobId);
    setProblem(result.ok ? null : result.message);
  }

  return (
    <>
      <p className="beyond" role="alert">
        {problem}
      </p>
      <div className="row">
        {session !== null && (
          <Link className="button primary" href={session.href}>
            {session.words}
          </Link>
        )}
        {quickLookHref !== null && (
          <Link className="button" href={quickLookHref}>
            Quick look
          </Link>
        )}
        {describeHref !== null && (
          <Link className="button primary" href={describeHref}>
            Describe the files
          </Link>
        )}
        {cancelWords !== null && (
          <button className="button" type="button" onClick={cancel}>
            {cancelWords}
          </button>
        )}
        {view.canImportAnother && (
          <Link className="button" href="/import">
            Import another
          </Link>
        )}
      </div>
    </>
  );
}
