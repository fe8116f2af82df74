'use client';

import { useActionState, useState } from 'react';
import { Field, SelectField } from '@/app/_components/form/field';
import { CLOCK_FORM_START } from '@/lib/view/clock/clock-edit';
import type { StretchOffer } from '@/lib/view/stretch-offers';
import { ReasonEnd } from '../../sources/_components/reason-end';
import { defineTaskAction } from '../actions';
import styles from './handling.module.css';

type TaskFormProps = Readonly<{
  sessionId: string;
  quantities: readonly Readonly<{ value: string; text: string }>[];
  offers: readonly StretchOffer[];
}>;

const WORDS = { rest: 'Keep this task', busy: 'Keeping' };
const FIELDS = [
  ['name', 'Name of the task'],
  ['pilot', 'Flown by'],
] as const;
const TIMES = [
  ['fromS', 'From, session time'],
  ['toS', 'To, session time'],
] as const;
const BOUNDS = [
  ['target', 'Target, 0 if empty'],
  ['desired', 'Desired, within'],
  ['adequate', 'Adequate, within'],
] as const;

/** Names a task with its bounds, in the unit that stands beside the quantity. */
export function TaskForm({ sessionId, quantities, offers }: TaskFormProps) {
  const [offer, choose] = useState<StretchOffer | null>(null);
  const [state, save, isSaving] = useActionState(
    defineTaskAction.bind(null, { sessionId }),
    CLOCK_FORM_START,
  );
  const { typed, fields } = state;
  return (
    <section className="panel no-print">
      <h2>Name a task</h2>
      <StretchOffers offers={offers} chosen={offer} choose={choose} />
      <form key={state.attempt} className="stack" action={save}>
        <div className={styles.fields}>
          {FIELDS.map(([name, label]) => (
            <Field
              key={name}
              label={label}
              name={name}
              value={typed[name] ?? ''}
              problem={fields[name]}
            />
          ))}
          {TIMES.map(([name, label]) => (
            <Field
              key={`${name} ${offer?.key}`}
              label={label}
              name={name}
              value={offer?.[name] ?? typed[name] ?? ''}
              problem={fields[name]}
            />
          ))}
          <SelectField
            label="What was to be kept"
            name="quantity"
            value={typed.quantity ?? quantities[0]?.value ?? ''}
            words={quantities}
          />
          {BOUNDS.map(([name, label]) => (
            <Field
              key={name}
              label={label}
              name={name}
              value={typed[name] ?? ''}
              problem={fields[name]}
            />
          ))}
        </div>
        <ReasonEnd state={state} words={WORDS} isSaving={isSaving} />
      </form>
      <p className="panel-note">
        Desired and adequate are half-widths about the target. What a mission asks is its own: the
        program knows no bounds of its own.
      </p>
    </section>
  );
}

type StretchOffersProps = Readonly<{
  offers: readonly StretchOffer[];
  chosen: StretchOffer | null;
  choose: (offer: StretchOffer) => void;
}>;

/** Stretches that look flown by hand: one chosen fills in its times. */
function StretchOffers({ offers, chosen, choose }: StretchOffersProps) {
  if (offers.length === 0) return null;
  return (
    <fieldset className={styles.offers}>
      <legend>
        Stretches that look flown by hand: choose one, then change its times if need be
      </legend>
      {offers.map((offer) => (
        <button
          key={offer.key}
          className="button"
          type="button"
          aria-pressed={chosen?.key === offer.key}
          onClick={() => choose(offer)}
        >
          {offer.text}
        </button>
      ))}
    </fieldset>
  );
}
