'use client';

import { useId } from 'react';
import form from '@/app/_components/form/field.module.css';
import type { DescribedChannel } from '@/lib/core/intake/proposal/session-proposal';
import { type FileShown, QUANTITY_CHOICES, UNITS_BY_QUANTITY } from '@/lib/view/describe-view';
import styles from './describe.module.css';
import { ScrollBox } from './scroll-box';

type ColumnTableProps = Readonly<{
  channels: readonly DescribedChannel[];
  shown: FileShown;
  onChange: (channels: readonly DescribedChannel[]) => void;
}>;

/** One row a column: quantity, unit, sign, why it is proposed so, and values to look at. */
export function ColumnTable({ channels, shown, onChange }: ColumnTableProps) {
  const listId = useId();
  function change(next: DescribedChannel): void {
    onChange(channels.map((channel) => (channel.column === next.column ? next : channel)));
  }
  return (
    <ScrollBox label={`Columns of ${shown.file}`}>
      <datalist id={listId}>
        {QUANTITY_CHOICES.map((quantity) => (
          <option key={quantity} value={quantity} />
        ))}
      </datalist>
      <table className="data">
        <thead>
          <tr>
            <th scope="col">column</th>
            <th scope="col">quantity</th>
            <th scope="col">unit</th>
            <th scope="col">sign</th>
            <th scope="col">values</th>
            <th scope="col">why</th>
          </tr>
        </thead>
        <tbody>
          {channels.map((channel, index) => (
            <ColumnRow
              key={channel.column}
              channel={channel}
              listId={listId}
              reason={shown.reasons[index] ?? ''}
              isUnitSaid={!shown.unsaidUnits.includes(channel.column)}
              examples={shown.examples[index] ?? ''}
              onChange={change}
            />
          ))}
        </tbody>
      </table>
      <p className="panel-note">
        A column without a quantity is kept with the file and not drawn. Any name of your own is
        kept and drawn as it is.
      </p>
    </ScrollBox>
  );
}

type ColumnRowProps = Readonly<{
  channel: DescribedChannel;
  listId: string;
  reason: string;
  examples: string;
  isUnitSaid: boolean;
  onChange: (channel: DescribedChannel) => void;
}>;

function ColumnRow({ channel, listId, reason, examples, isUnitSaid, onChange }: ColumnRowProps) {
  const { column, as, unit, sign } = channel;
  const unitListId = useId();
  const units = UNITS_BY_QUANTITY[as ?? ''] ?? [];
  return (
    <tr>
      <th scope="row">
        <code>{column}</code>
      </th>
      <td>
        <input
          className={`${form.input} ${styles.quantity}`}
          aria-label={`Quantity of ${column}`}
          list={listId}
          value={as ?? ''}
          placeholder="none"
          onChange={({ target }) => onChange({ ...channel, as: target.value || null })}
        />
      </td>
      <td>
        <input
          className={`${form.input} ${styles.unit} ${isUnitSaid ? '' : styles.unsaid}`}
          aria-label={`Unit of ${column}`}
          list={unitListId}
          value={unit ?? ''}
          placeholder={as === null ? '' : 'unit'}
          aria-invalid={as !== null && unit === null ? true : undefined}
          onChange={({ target }) => onChange({ ...channel, unit: target.value || null })}
        />
        <datalist id={unitListId}>
          {units.map((each) => (
            <option key={each} value={each} />
          ))}
        </datalist>
      </td>
      <td>
        <select
          className={`${form.input} ${styles.sign}`}
          aria-label={`Sign of ${column}`}
          value={sign}
          onChange={({ target }) => onChange({ ...channel, sign: target.value === '-1' ? -1 : 1 })}
        >
          <option value={1}>as written</option>
          <option value={-1}>turned round</option>
        </select>
      </td>
      <td className={`num ${styles.values}`}>{examples}</td>
      <td className={styles.why}>{reason}</td>
    </tr>
  );
}
