import { FigureValue } from '@/app/_components/figure/figure-value';
import type { EvidenceChoice } from '@/lib/view/comparison-keys';
import type { ModelChangeRowView } from '@/lib/view/model-change-view';
import styles from './comparison.module.css';
import { ModelChangeButtons } from './model-change-buttons';
import { ModelChangeForm } from './model-change-form';

type ModelChangesProps = Readonly<{
  sessionId: string;
  query: string;
  rows: readonly ModelChangeRowView[];
  evidence: readonly EvidenceChoice[];
  states: readonly string[];
}>;

const COLUMNS = ['no.', 'parameter', 'now', 'proposed', 'evidence', 'owner', 'state'] as const;

/** What must change in the model: the end of a comparison. Removed changes can be brought back. */
export function ModelChanges({ rows, ...rest }: ModelChangesProps) {
  return (
    <section className="panel stack">
      <h2>What must change in the model</h2>
      {rows.length === 0 ? (
        <p className="soft">
          No change is proposed. Propose one with the numbers that speak for it.
        </p>
      ) : (
        <table className="data">
          <thead>
            <tr>
              {COLUMNS.map((name) => (
                <th key={name} scope="col">
                  {name}
                </th>
              ))}
              <th scope="col" className="no-print">
                <span className="visually-hidden">edit</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <ChangeRow key={row.id} row={row} {...rest} />
            ))}
          </tbody>
        </table>
      )}
      <ModelChangeForm change={null} {...rest} />
    </section>
  );
}

type ChangeRowProps = Omit<ModelChangesProps, 'rows'> & Readonly<{ row: ModelChangeRowView }>;

function ChangeRow({ row, ...rest }: ChangeRowProps) {
  const words = (text: string) => (row.isRemoved ? <s>{text}</s> : text);
  return (
    <tr>
      <td className="num">{row.number}</td>
      <th scope="row">
        {words(row.parameter)}
        <span className={styles.bound}>{row.by}</span>
      </th>
      <td>{words(row.now)}</td>
      <td>{words(row.proposed)}</td>
      <td className={styles.evidenceList}>
        {row.evidence.map(({ label, figure }) => (
          <span key={label}>
            {label} <FigureValue figure={figure} />
          </span>
        ))}
      </td>
      <td>{words(row.owner)}</td>
      <td>{row.isRemoved ? 'removed' : row.state}</td>
      <td className="no-print">
        <ModelChangeButtons sessionId={rest.sessionId} change={row} />
        {!row.isRemoved && <ModelChangeForm change={row} {...rest} />}
      </td>
    </tr>
  );
}
