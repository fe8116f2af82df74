'use client';

import { type ReactNode, useId } from 'react';
import type { Finding } from '@/lib/core/findings/finding';
import { FINDING_CHOICES } from '@/lib/view/timeline-finding';
import forms from './forms.module.css';

export type FindingWords = Readonly<
  Record<'title' | 'seen' | 'change' | 'owner' | 'due' | 'kind' | 'severity' | 'state', string>
>;

/** The words of a finding as saved; of a new one, what it starts from. */
export function wordsOf(finding: Finding | null): FindingWords {
  return {
    title: finding?.title ?? '',
    seen: finding?.seen ?? '',
    change: finding?.change ?? '',
    owner: finding?.owner ?? '',
    due: finding?.due ?? '',
    kind: finding?.kind ?? 'observation',
    severity: finding?.severity ?? 'note',
    state: finding?.state ?? 'draft',
  };
}

type FindingFieldsProps = Readonly<{
  fields: FindingWords;
  put: (changes: Partial<FindingWords>) => void;
  /** What did not fit, by field. */
  wrong: Readonly<Record<string, string>>;
  /** A new finding begins as a draft. */
  states: 'draft only' | 'all';
  /** The down arrow in the title. */
  onTitleDown: () => void;
}>;

/** What was seen, its weight, and what should change. */
export function FindingFields({ fields, put, wrong, states, onTitleDown }: FindingFieldsProps) {
  return (
    <>
      <Labelled label="Title">
        {(id) => (
          <input
            id={id}
            data-first
            value={fields.title}
            maxLength={200}
            required
            aria-invalid={wrong.title !== undefined}
            onChange={(event) => put({ title: event.target.value })}
            onKeyDown={(event) => {
              if (event.key !== 'ArrowDown') return;
              event.preventDefault();
              onTitleDown();
            }}
          />
        )}
      </Labelled>
      <Labelled label="What was seen">
        {(id) => (
          <textarea
            id={id}
            value={fields.seen}
            required
            aria-invalid={wrong.seen !== undefined}
            onChange={(event) => put({ seen: event.target.value })}
          />
        )}
      </Labelled>
      <div className={forms.pair}>
        <Choice
          label="Kind"
          value={fields.kind}
          words={FINDING_CHOICES.kinds}
          choose={(kind) => put({ kind })}
        />
        <Choice
          label="Severity"
          value={fields.severity}
          words={FINDING_CHOICES.severities}
          choose={(severity) => put({ severity })}
        />
        {states === 'all' && (
          <Choice
            label="State"
            value={fields.state}
            words={FINDING_CHOICES.states}
            choose={(state) => put({ state })}
          />
        )}
      </div>
      <Labelled label="What should change">
        {(id) => (
          <textarea
            id={id}
            value={fields.change}
            placeholder="What to do, and for whom"
            onChange={(event) => put({ change: event.target.value })}
          />
        )}
      </Labelled>
      <div className={forms.pair}>
        <Labelled label="Owner">
          {(id) => (
            <input
              id={id}
              value={fields.owner}
              maxLength={200}
              onChange={(event) => put({ owner: event.target.value })}
            />
          )}
        </Labelled>
        <Labelled label="Due">
          {(id) => (
            <input
              id={id}
              type="date"
              value={fields.due}
              aria-invalid={wrong.due !== undefined}
              onChange={(event) => put({ due: event.target.value })}
            />
          )}
        </Labelled>
      </div>
    </>
  );
}

type LabelledProps = Readonly<{ label: string; children: (id: string) => ReactNode }>;

function Labelled({ label, children }: LabelledProps) {
  const id = useId();
  return (
    <div className={forms.field}>
      <label htmlFor={id}>{label}</label>
      {children(id)}
    </div>
  );
}

type ChoiceProps = Readonly<{
  label: string;
  value: string;
  words: readonly string[];
  choose: (word: string) => void;
}>;

function Choice({ label, value, words, choose }: ChoiceProps) {
  return (
    <Labelled label={label}>
      {(id) => (
        <select id={id} value={value} onChange={(event) => choose(event.target.value)}>
          {words.map((word) => (
            <option key={word}>{word}</option>
          ))}
        </select>
      )}
    </Labelled>
  );
}
