import { type BlockView, type CellView, countedLabel } from '@/lib/view/debrief/document-view';
import styles from './document.module.css';
import { Runs } from './runs';

type Table = Extract<BlockView, { kind: 'table' }>;

function toneClass(cell: CellView, align: 'start' | 'end'): string {
  const tone = cell.tone === 'plain' ? '' : cell.tone;
  return [align === 'end' ? styles.end : '', tone].filter((name) => name !== '').join(' ');
}

function Cell({
  cell,
  align,
  scope,
}: Readonly<{ cell: CellView; align: 'start' | 'end'; scope: 'row' | null }>) {
  const className = toneClass(cell, align);
  const spans = { colSpan: cell.colspan, rowSpan: cell.rowspan };
  if (!cell.header) {
    return (
      <td className={className} {...spans}>
        <Runs runs={cell.runs} />
      </td>
    );
  }
  return (
    <th className={className} {...spans} {...(scope === null ? {} : { scope })}>
      <Runs runs={cell.runs} />
    </th>
  );
}

/** From so many columns on a table needs room on paper. */
const WIDE_FROM = 7;

/** A table of a document, with its caption and number where it has them. */
export function DocumentTable({ table }: Readonly<{ table: Table }>) {
  const live = table.columns.length > 0;
  const className =
    table.columns.length < WIDE_FROM ? styles.table : `${styles.table} ${styles.wide}`;
  return (
    <section
      className={className}
      id={table.id}
      aria-label={table.caption === '' ? undefined : table.caption}
    >
      <table>
        {table.number !== null && (
          <caption>
            <strong>{countedLabel('Table', table.number)}.</strong> {table.caption}
          </caption>
        )}
        {live && (
          <thead>
            <tr>
              {table.columns.map((column) => (
                <th
                  key={column.label}
                  scope="col"
                  className={column.align === 'end' ? styles.end : undefined}
                >
                  {column.label}
                </th>
              ))}
            </tr>
          </thead>
        )}
        <tbody>
          {table.rows.map((cells, row) => {
            // Rows and cells of a resolved table never change places.
            const rowKey = `${row}`;
            return (
              <tr key={rowKey}>
                {cells.map((cell, column) => {
                  const key = `${column}`;
                  const align = table.columns[column]?.align ?? 'start';
                  return <Cell key={key} cell={cell} align={align} scope={live ? 'row' : null} />;
                })}
              </tr>
            );
          })}
        </tbody>
      </table>
      {table.note !== '' && <p className={styles.note}>{table.note}</p>}
    </section>
  );
}
