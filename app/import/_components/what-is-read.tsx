import styles from './what-is-read.module.css';

const FILES = [
  ['session.yaml', 'title, kind, the UTC instant of session time zero, and how to read each file'],
  [
    'telemetry',
    'CSV and other text in columns (separator and decimal sign are found), Parquet, JSON Lines, CCSDS TDM, OEM and AEM (KVN or XML); wide or long, plain or gzip; one source may be several files',
  ],
  [
    'event or voice log',
    'CSV with a time and an event or text, WebVTT, SubRip, JSON Lines, or text with a stamp on each line',
  ],
  ['ephemeris', 'a CCSDS OEM or AEM that is kept; nothing is computed from it yet'],
  ['simulator runs', 'files like one of the telemetry sources, named by a pattern; optional'],
  ['plan.yaml', 'holds and moves with planned lengths and rates; optional'],
  ['rules.yaml', 'limits, order of events, what must never happen, lengths of steps; optional'],
] as const;

/** What a session folder is made of, for somebody who has never seen one. */
export function WhatIsRead() {
  return (
    <section className="panel">
      <h2>What is read</h2>
      <dl className={styles.files}>
        {FILES.map(([name, text]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{text}</dd>
          </div>
        ))}
      </dl>
      <p className="panel-note">
        Files are read and copied, never changed. What does not fit is listed with file, line or
        key, what was found and what was expected; nothing is kept until all of it has been read.
      </p>
    </section>
  );
}
