'use client';

import { type Dispatch, useMemo, useState } from 'react';
import { stripAtPlace } from '@/lib/view/strip-places';
import type { TimelineView } from '@/lib/view/timeline';
import type { TimelineAction, TimelineState } from '@/lib/view/timeline-state';
import { Arrangements } from './arrangements';
import forms from './forms.module.css';
import { SharedStrips } from './shared-strips';
import styles from './strip-chooser.module.css';

type StripChooserProps = Readonly<{
  view: TimelineView;
  state: TimelineState;
  dispatch: Dispatch<TimelineAction>;
  say: (sentence: string) => void;
}>;

/** Every channel of every source and every derived column: put on, taken off, moved, shared; arrangements. */
export function StripChooser({ view, state, dispatch, say }: StripChooserProps) {
  const { catalogue } = view;
  const shown = state.strips;
  const known = useMemo(() => new Set(catalogue.strips.map((strip) => strip.id)), [catalogue]);
  const [sought, setSought] = useState('');
  const words = sought.toLowerCase().split(/\s+/).filter(Boolean);
  const found = catalogue.strips.filter((strip) => {
    const text = `${strip.label} ${strip.id} ${strip.group} ${strip.unit}`.toLowerCase();
    return words.every((word) => text.includes(word));
  });
  const groups = [...new Set(found.map((strip) => strip.group))];
  const on = shown.flatMap((id) => stripAtPlace(catalogue, id) ?? []);
  return (
    <div className={styles.chooser}>
      <ol className={styles.on} aria-label="Put on, top to bottom">
        {on.map((strip, index) => (
          <li key={strip.id}>
            <span>{strip.label}</span>
            <button
              type="button"
              disabled={index === 0}
              aria-label={`${strip.label} up`}
              onClick={() => dispatch({ kind: 'move-strip', id: strip.id, by: -1 })}
            >
              ↑
            </button>
            <button
              type="button"
              disabled={index === on.length - 1}
              aria-label={`${strip.label} down`}
              onClick={() => dispatch({ kind: 'move-strip', id: strip.id, by: 1 })}
            >
              ↓
            </button>
            <button
              type="button"
              aria-label={`Take ${strip.label} off`}
              onClick={() => dispatch({ kind: 'toggle-strip', id: strip.id })}
            >
              off
            </button>
            <SharedStrips {...{ strip, on, catalogue, known, dispatch }} />
          </li>
        ))}
      </ol>
      <Arrangements {...{ view, state, dispatch, say }} />
      <div className={forms.field}>
        <label htmlFor="strip-sought">Find a channel</label>
        <input
          id="strip-sought"
          type="search"
          value={sought}
          onChange={(event) => setSought(event.target.value)}
        />
      </div>
      {found.length === 0 && <p className="soft">No channel has these words.</p>}
      {groups.map((group) => (
        <fieldset key={group} className={styles.group}>
          <legend>{group}</legend>
          {found
            .filter((strip) => strip.group === group)
            .map((strip) => (
              <label key={strip.id}>
                <input
                  type="checkbox"
                  checked={shown.includes(strip.id)}
                  onChange={() => dispatch({ kind: 'toggle-strip', id: strip.id })}
                />
                <span>{strip.label}</span>
                <span className="soft">{strip.unit}</span>
              </label>
            ))}
        </fieldset>
      ))}
    </div>
  );
}
