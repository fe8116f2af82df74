'use client';

import { type Dispatch, type FormEvent, useId, useState, useTransition } from 'react';
import type { KeptArrangement, TimelineView } from '@/lib/view/timeline';
import type { TimelineAction, TimelineState } from '@/lib/view/timeline-state';
import { knownOf, readArrangement, unknownStrips, writeArrangement } from '@/lib/view/timeline-url';
import { editTimelineArrangement, keepTimelineArrangement } from '../arrangements/actions';
import forms from './forms.module.css';
import styles from './strip-chooser.module.css';
import { withAddressAtRest } from './use-address';

type ArrangementsProps = Readonly<{
  view: TimelineView;
  state: TimelineState;
  dispatch: Dispatch<TimelineAction>;
  say: (sentence: string) => void;
}>;

type Answer = Readonly<
  { ok: true; data: KeptArrangement } | { ok: false; message: string; code: string }
>;

/** Strips and axis under a name, for the whole team: put up, kept, renamed, removed and taken back. */
export function Arrangements({ view, state, dispatch, say }: ArrangementsProps) {
  const { sessionId } = view;
  const [name, setName] = useState('');
  const [problem, setProblem] = useState('');
  const [told, setTold] = useState('');
  const [removed, setRemoved] = useState<KeptArrangement | null>(null);
  const [waits, start] = useTransition();
  const id = useId();
  const send = (ask: () => Promise<Answer>, done: (kept: KeptArrangement) => void): void =>
    start(async () => {
      const answer = await withAddressAtRest(ask).catch(() => null);
      setProblem(answer?.ok ? '' : (answer?.message ?? 'The server does not answer.'));
      if (answer?.ok) done(answer.data);
    });
  const keep = (event: FormEvent): void => {
    event.preventDefault();
    const query = writeArrangement(state);
    send(
      () => keepTimelineArrangement(sessionId, { name, query }),
      (kept) => {
        setName('');
        say(`Kept as ${kept.name}.`);
      },
    );
  };
  const change = (
    was: KeptArrangement,
    changes: Partial<KeptArrangement>,
    done: (kept: KeptArrangement) => void,
    to: 'kept' | 'removed' = 'kept',
  ): void =>
    send(() => editTimelineArrangement(sessionId, { ...was, ...changes, state: to }), done);
  return (
    <section className={styles.arrangements} aria-labelledby={`${id}-title`}>
      <h3 id={`${id}-title`}>Arrangements of the team</h3>
      {view.arrangements.length === 0 && <p className="soft">None is kept yet.</p>}
      <ul className={styles.on}>
        {view.arrangements.map((kept) => (
          <KeptRow
            key={`${kept.id} ${kept.version}`}
            kept={kept}
            waits={waits}
            putUp={() => {
              const known = knownOf(view);
              dispatch({ kind: 'arrange', address: readArrangement(kept.query, known) });
              const strips = new URLSearchParams(kept.query).get('strips');
              const lacking = unknownStrips(strips, known);
              const rest = lacking.length === 0 ? '' : `: not here ${lacking.join(', ')}`;
              setTold(`${kept.name} is put up${rest}.`);
              say(`${kept.name} is put up${rest}.`);
            }}
            rename={(to) => change(kept, { name: to }, () => say(`Renamed to ${to}.`))}
            replace={() =>
              change(kept, { query: writeArrangement(state) }, () =>
                say(`${kept.name} now holds what is put on.`),
              )
            }
            remove={() =>
              change(
                kept,
                {},
                (gone) => {
                  setRemoved(gone);
                  say(`${kept.name} is removed.`);
                },
                'removed',
              )
            }
          />
        ))}
      </ul>
      {told !== '' && <p className={styles.removed}>{told}</p>}
      {removed !== null && (
        <p className={styles.removed}>
          {removed.name} is removed.{' '}
          <button
            type="button"
            className="button"
            disabled={waits}
            onClick={() => change(removed, {}, () => setRemoved(null))}
          >
            Undo
          </button>
        </p>
      )}
      <form className={styles.keep} onSubmit={keep}>
        <div className={forms.field}>
          <label htmlFor={`${id}-name`}>Keep what is put on as</label>
          <input
            id={`${id}-name`}
            value={name}
            maxLength={80}
            onChange={(event) => setName(event.target.value)}
          />
        </div>
        <button type="submit" className="button" disabled={waits || name.trim() === ''}>
          Keep
        </button>
      </form>
      {problem !== '' && (
        <p role="alert" className={forms.wrong}>
          {problem}
        </p>
      )}
    </section>
  );
}

type KeptRowProps = Readonly<{
  kept: KeptArrangement;
  waits: boolean;
  putUp: () => void;
  rename: (name: string) => void;
  replace: () => void;
  remove: () => void;
}>;

function KeptRow({ kept, waits, putUp, rename, replace, remove }: KeptRowProps) {
  const [edited, setEdited] = useState<string | null>(null);
  if (edited !== null)
    return (
      <li>
        <input
          className={styles.rename}
          aria-label={`New name of ${kept.name}`}
          value={edited}
          maxLength={80}
          // biome-ignore lint/a11y/noAutofocus: the field takes the place of the button just pressed
          autoFocus
          onChange={(event) => setEdited(event.target.value)}
          onKeyDown={(event) => {
            if (event.key === 'Escape') {
              event.stopPropagation();
              event.preventDefault();
              setEdited(null);
            }
            if (event.key === 'Enter') rename(edited);
          }}
        />
        <button type="button" disabled={waits} onClick={() => rename(edited)}>
          save
        </button>
      </li>
    );
  return (
    <li>
      <button type="button" className={styles.putUp} onClick={putUp}>
        {kept.name}
      </button>
      <button
        type="button"
        disabled={waits}
        aria-label={`Rename ${kept.name}`}
        onClick={() => setEdited(kept.name)}
      >
        rename
      </button>
      <button
        type="button"
        disabled={waits}
        aria-label={`Replace ${kept.name} by what is put on`}
        title="Keep what is put on now under this name"
        onClick={replace}
      >
        replace
      </button>
      <button type="button" disabled={waits} aria-label={`Remove ${kept.name}`} onClick={remove}>
        remove
      </button>
    </li>
  );
}
