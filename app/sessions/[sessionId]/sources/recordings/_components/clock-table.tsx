import type { RecordingClockView } from '@/lib/view/recordings/recordings-view';
import { ActButton } from './act-button';
import styles from './recordings.module.css';

type ClockTableProps = Readonly<{ clocks: readonly RecordingClockView[]; sessionId: string }>;

/** What people said of when a recording ran; the newest that stands counts, the others stay on record. */
export function ClockTable({ clocks, sessionId }: ClockTableProps) {
  if (clocks.length === 0) return null;
  return (
    <div className={styles.scroll}>
      <table className="data">
        <caption className="visually-hidden">Its clock, the newest word first</caption>
        <thead>
          <tr>
            <th scope="col">recording is session</th>
            <th scope="col">why</th>
            <th scope="col">who</th>
            <th scope="col">when</th>
            <th scope="col">
              <span className="visually-hidden">undo</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {clocks.map((clock) => (
            <tr key={clock.id}>
              <td className="num">{clock.undone === null ? clock.what : <s>{clock.what}</s>}</td>
              <td className="words">{clock.why}</td>
              <td className="words">{clock.who}</td>
              <td>{clock.when}</td>
              <td>
                {clock.undone !== null && <span className="soft">{clock.undone} </span>}
                <ActButton
                  sessionId={sessionId}
                  place={{ id: clock.id, version: clock.version }}
                  act={clock.undone === null ? 'undo clock' : 'put clock back'}
                  words={clock.undone === null ? 'Undo' : 'Put back'}
                  name={clock.what}
                />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
