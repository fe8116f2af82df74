'use client';

import type { DescribedFile, FileUse } from '@/lib/core/intake/proposal/session-proposal';
import { type FileShown, needsTime, USE_CHOICES } from '@/lib/view/describe-view';
import { ColumnTable } from './column-table';
import styles from './describe.module.css';
import { Choose } from './labelled';
import { ScrollBox } from './scroll-box';
import { StampFields } from './stamp-fields';
import { TimeFields } from './time-fields';

type FilePanelProps = Readonly<{
  file: DescribedFile;
  shown: FileShown;
  onChange: (file: DescribedFile) => void;
}>;

const CLOCKS = [
  { value: 'own', label: 'as its times say' },
  { value: 'callouts', label: 'found from the ranges that were spoken' },
];
const OPEN_TIME = { columns: [], code: null, scale: null, from: null, dateOrder: null } as const;

function isUse(value: string): value is FileUse {
  return USE_CHOICES.some((choice) => choice.value === value);
}

/** One file: what it is, its times, its columns, and its first rows to look at. */
export function FilePanel({ file, shown, onChange }: FilePanelProps) {
  const isRead = file.use === 'telemetry' || file.use === 'events';
  function changeUse(use: string): void {
    if (!isUse(use)) return;
    const isTimeOpen = file.time === null && !file.ownTimes && needsTime(file.file, use);
    onChange({ ...file, use, ...(isTimeOpen ? { time: OPEN_TIME } : {}) });
  }
  return (
    <section className="panel stack" aria-label={file.file}>
      <div className={styles.head}>
        <h2>{file.file}</h2>
        <span className="soft">{shown.said}</span>
      </div>
      <div className={styles.fields}>
        <Choose label="Use it as" value={file.use} choices={USE_CHOICES} onChange={changeUse} />
        {isRead && file.time !== null && !file.ownTimes && (
          <TimeFields
            time={file.time}
            header={shown.header}
            onChange={(time) => onChange({ ...file, time })}
          />
        )}
        {file.use === 'events' && (
          <Choose
            label="Its clock"
            value={file.clock}
            choices={CLOCKS}
            onChange={(clock) =>
              onChange({ ...file, clock: clock === 'callouts' ? 'callouts' : 'own' })
            }
          />
        )}
      </div>
      {isRead && (
        <StampFields
          stamping={file.stamping}
          reason={shown.stampReason}
          onChange={(stamping) => onChange({ ...file, stamping })}
        />
      )}
      {isRead && shown.timeReason !== null && <p className="soft">Times: {shown.timeReason}.</p>}
      {file.use === 'events' && shown.clockReason !== null && (
        <p className="soft">Clock: {shown.clockReason}.</p>
      )}
      {file.use === 'telemetry' && (
        <ColumnTable
          channels={file.channels}
          shown={shown}
          onChange={(channels) => onChange({ ...file, channels })}
        />
      )}
      <FirstRows shown={shown} />
    </section>
  );
}

function FirstRows({ shown }: Readonly<{ shown: FileShown }>) {
  if (shown.rows.length === 0 && shown.lines.length === 0) return null;
  return (
    <details>
      <summary>The first rows as they stand in the file</summary>
      <ScrollBox label={`First rows of ${shown.file}`}>
        {shown.rows.length === 0 ? (
          <pre>{shown.lines.join('\n')}</pre>
        ) : (
          <table className="data">
            <thead>
              <tr>
                <th scope="col" className="right">
                  line
                </th>
                {shown.header.map((name) => (
                  <th key={name} scope="col">
                    {name}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {shown.rows.map(({ line, cells }, row) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: rows stand as they are in the file
                <tr key={row}>
                  <th scope="row" className="right num">
                    {line}
                  </th>
                  {shown.header.map((name, column) => (
                    <td key={name} className="num">
                      {cells[column]}
                    </td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        )}
      </ScrollBox>
    </details>
  );
}
