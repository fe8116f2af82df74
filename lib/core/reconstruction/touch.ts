/** First touch as it stands: computed, or declared by a person. */
import type { ContactTime } from '../phases/contact-time';
import { type ContactResult, contactWith } from '../phases/declared-contact';
import type { DeclaredContact, PhaseEdit } from '../session/phase-edit';
import type { Contact } from './contact-report';
import type { CheckedSource } from './data-quality';
import { about, contactMethod } from './edit-words';
import { figureOf, type Origin } from './figure-of';

/** Contact as it stands and as it was computed; `people` is empty where nobody declared one. */
export type Touch = Readonly<{
  result: ContactResult;
  computed: ContactTime | null;
  /** The declaration that counts; null for none. */
  declared: DeclaredContact | null;
  people: readonly string[];
}>;

/** First and last row of all telemetry, s; `null` without any. */
function telemetrySpan(checked: readonly CheckedSource[]): readonly [number, number] | null {
  let fromS = Infinity;
  let toS = -Infinity;
  for (const { tS } of checked) {
    fromS = Math.min(fromS, tS[0] ?? Infinity);
    toS = Math.max(toS, tS[tS.length - 1] ?? -Infinity);
  }
  return fromS <= toS ? [fromS, toS] : null;
}

/**
 * Contact with what people declared of it: the one place in which a declaration counts.
 *
 * @param edits what people said of phases, in the order in which they said it
 * @param computed contact as the data give it
 */
export function touchOf(
  edits: readonly PhaseEdit[],
  computed: ContactTime | null,
  checked: readonly CheckedSource[],
): Touch {
  const placed = edits.flatMap((edit, place) => (edit.kind === 'contact' ? [{ place, edit }] : []));
  const result = contactWith(computed, placed, telemetrySpan(checked));
  const declared = placed.find(({ place }) => place === result.setBy)?.edit ?? null;
  const people = declared === null ? [] : [about('Contact', contactMethod(declared, computed))];
  return { result, computed, declared, people };
}

/** The computed instant beside the declared one; nothing where none was declared. */
export function declaredBeside(
  { declared, computed }: Touch,
  origin: Origin,
): Pick<Contact, 'set'> {
  if (declared === null) return {};
  const { by, basis } = declared;
  const computedS = computed === null ? null : computedContact(computed, origin);
  return { set: { by, basis, computedS } };
}

/** Contact as it was computed, as a figure. */
export function computedContact({ timeS, halfS, basis }: ContactTime, origin: Origin) {
  return figureOf(origin, {
    value: timeS,
    unit: 's',
    random: halfS,
    method: `Contact as computed (${basis}).`,
    fromS: timeS,
    toS: timeS,
  });
}
