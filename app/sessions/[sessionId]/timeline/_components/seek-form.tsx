'use client';

import { type Dispatch, type FormEvent, useId, useState } from 'react';
import { isSoughtView } from '@/lib/view/checked-answers';
import { seekChannels } from '@/lib/view/seek-channels';
import type { TimelineView } from '@/lib/view/timeline';
import type { SoughtView } from '@/lib/view/timeline-sought';
import type { TimelineAction, TimelineState } from '@/lib/view/timeline-state';
import forms from './forms.module.css';
import styles from './search-sheet.module.css';
import { SoughtList } from './sought-list';
import { useFetched } from './use-fetched';
import type { TimelineActs } from './use-timeline-acts';

type SeekFormProps = Readonly<{
  view: TimelineView;
  state: TimelineState;
  acts: TimelineActs;
  dispatch: Dispatch<TimelineAction>;
}>;

type Asked = Readonly<{
  key: string;
  of: 'value' | 'rate';
  sense: 'above' | 'below';
  limit: string;
  leastS: string;
  over: 'this' | 'all';
}>;

const NUMBER = /^[-\u2212]?\d*[.,]?\d+(?:e[-+]?\d+)?$/i;

function numberText(text: string): string | null {
  const clean = text.trim();
  return NUMBER.test(clean) ? clean.replace('\u2212', '-').replace(',', '.') : null;
}

/** Stretches in which a channel, or its rate of change, lies beyond a value for some time. */
export function SeekForm({ view, state, acts, dispatch }: SeekFormProps) {
  const id = useId();
  const channels = seekChannels(view.catalogue, state.strips);
  const first = channels.find((channel) => channel.key === 'closing_rate') ?? channels[0];
  const [asked, setAsked] = useState<Asked>({
    key: first?.key ?? '',
    of: 'value',
    sense: 'above',
    limit: '',
    leastS: '0',
    over: 'this',
  });
  const [address, setAddress] = useState<string | null>(null);
  const [wrong, setWrong] = useState('');
  const fetched = useFetched(address, isSoughtView);
  if (first === undefined) return null;
  const put = (changes: Partial<Asked>): void => setAsked((before) => ({ ...before, ...changes }));
  const unit = channels.find((channel) => channel.key === asked.key)?.units[asked.of] ?? '';
  const seek = (event: FormEvent): void => {
    event.preventDefault();
    const limit = numberText(asked.limit);
    const leastS = numberText(asked.leastS === '' ? '0' : asked.leastS);
    if (limit === null || leastS === null || Number(leastS) < 0) {
      setWrong(
        limit === null ? 'The value is a number, as 0.3.' : 'The time is a number of seconds.',
      );
      return;
    }
    setWrong('');
    const { key, of, sense, over } = asked;
    const query = new URLSearchParams({ c: key, of, sense, limit, for: leastS, over });
    const base = `/sessions/${encodeURIComponent(view.sessionId)}/timeline/seek`;
    setAddress(`${base}?${query}`);
    if (address === `${base}?${query}`) fetched.retry();
  };
  return (
    <section className={styles.seek} aria-labelledby={`${id}-title`}>
      <h3 id={`${id}-title`}>Stretches beyond a value</h3>
      <form onSubmit={seek} className={styles.form}>
        <div className={forms.field}>
          <label htmlFor={`${id}-channel`}>Channel</label>
          <select
            id={`${id}-channel`}
            value={asked.key}
            onChange={(event) => put({ key: event.target.value })}
          >
            {channels.map((channel) => (
              <option key={channel.key} value={channel.key}>
                {channel.label}
              </option>
            ))}
          </select>
        </div>
        <div className={forms.pair}>
          <Choice
            label="Its"
            value={asked.of}
            words={{ value: 'value', rate: 'rate of change' }}
            choose={(of) => put({ of })}
          />
          <Choice
            label="is"
            value={asked.sense}
            words={{ above: 'above', below: 'below' }}
            choose={(sense) => put({ sense })}
          />
        </div>
        <div className={forms.pair}>
          <div className={forms.field}>
            <label htmlFor={`${id}-limit`}>{unit === '' ? 'Value' : `Value, ${unit}`}</label>
            <input
              id={`${id}-limit`}
              inputMode="decimal"
              value={asked.limit}
              aria-invalid={wrong !== ''}
              onChange={(event) => put({ limit: event.target.value })}
            />
          </div>
          <div className={forms.field}>
            <label htmlFor={`${id}-for`}>For at least, s</label>
            <input
              id={`${id}-for`}
              inputMode="decimal"
              value={asked.leastS}
              onChange={(event) => put({ leastS: event.target.value })}
            />
          </div>
        </div>
        <Choice
          label="In"
          value={asked.over}
          words={{ this: 'this session', all: 'all sessions' }}
          choose={(over) => put({ over })}
        />
        <button type="submit" className="button primary" disabled={fetched.state === 'loading'}>
          Look for them
        </button>
      </form>
      {wrong !== '' && (
        <p role="alert" className={forms.wrong}>
          {wrong}
        </p>
      )}
      <SeekAnswer fetched={fetched} sessionId={view.sessionId} acts={acts} dispatch={dispatch} />
    </section>
  );
}

type SeekAnswerProps = Pick<SeekFormProps, 'acts' | 'dispatch'> &
  Readonly<{ fetched: ReturnType<typeof useFetched<SoughtView>>; sessionId: string }>;

/** What became of the search. */
function SeekAnswer({ fetched, sessionId, acts, dispatch }: SeekAnswerProps) {
  if (fetched.state === 'loading') return <p className="soft">Looking through the samples…</p>;
  if (fetched.state === 'failed') {
    return (
      <p role="alert">
        The search was not done. {fetched.message}{' '}
        <button type="button" className="button" onClick={fetched.retry}>
          Try again
        </button>
      </p>
    );
  }
  if (fetched.state !== 'ready') return null;
  return <SoughtList found={fetched.value} sessionId={sessionId} acts={acts} dispatch={dispatch} />;
}

type ChoiceProps<Value extends string> = Readonly<{
  label: string;
  value: Value;
  words: Readonly<Record<Value, string>>;
  choose: (value: Value) => void;
}>;

function Choice<Value extends string>({ label, value, words, choose }: ChoiceProps<Value>) {
  const id = useId();
  const values = Object.keys(words) as Value[];
  return (
    <div className={forms.field}>
      <label htmlFor={id}>{label}</label>
      <select
        id={id}
        value={value}
        onChange={(event) => {
          const chosen = values.find((each) => each === event.target.value);
          if (chosen !== undefined) choose(chosen);
        }}
      >
        {values.map((each) => (
          <option key={each} value={each}>
            {words[each]}
          </option>
        ))}
      </select>
    </div>
  );
}
