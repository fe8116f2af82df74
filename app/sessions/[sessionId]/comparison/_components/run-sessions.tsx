import { loadRunSessions } from '@/lib/server/queries/load-corrections';
import { loadOtherSessions } from '@/lib/server/queries/load-other-sessions';
import { keptRow } from '@/lib/view/clock/correction-list';
import { CorrectionList } from '../../sources/_components/correction-list';
import { RunSessionForm } from './run-session-form';

/** Other sessions as runs: the form, and those that were added, each to be undone. */
export async function RunSessions({ sessionId }: Readonly<{ sessionId: string }>) {
  const [kept, sessions] = await Promise.all([
    loadRunSessions(sessionId),
    loadOtherSessions(sessionId),
  ]);
  return (
    <>
      <RunSessionForm sessionId={sessionId} sessions={sessions} />
      {kept.length > 0 && (
        <CorrectionList
          title="Sessions added as runs"
          rows={kept.map((one) =>
            keptRow(one, `${one.correction.title}, as a ${one.correction.basis}`),
          )}
          sessionId={sessionId}
          empty=""
        />
      )}
    </>
  );
}
