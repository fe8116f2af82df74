import type { InventoryRow } from '@/lib/view/sources-view';
import { type ReplacedIn, ReplaceFile } from './replace-file';

type InventoryProps = Readonly<{ rows: readonly InventoryRow[]; session: ReplacedIn }>;

const TONES: Readonly<Record<InventoryRow['state'], string>> = {
  received: 'inside',
  'received late': 'inside',
  replaced: 'inside',
  awaited: 'unsure',
  lost: 'beyond',
};

/** What was expected of this session and what came of it; an awaited file can be added here. */
export function Inventory({ rows, session }: InventoryProps) {
  if (rows.length === 0) return null;
  return (
    <section className="panel">
      <h2>Expected and received</h2>
      <table className="data">
        <thead>
          <tr>
            <th scope="col">file</th>
            <th scope="col">state</th>
            <th scope="col">note</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ file, state, note }) => (
            <tr key={file}>
              <th scope="row">
                <code>{file}</code>
              </th>
              <td className={TONES[state]}>{state}</td>
              <td>
                {note}
                {(state === 'awaited' || state === 'lost') && (
                  <ReplaceFile file={file} session={session} asked="add" />
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
