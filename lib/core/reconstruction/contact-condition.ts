/** One condition at contact: what it is formed from and how well it is known. */
import { lengthHalf95 } from '../math/length-interval';
import { lowerBound } from '../math/search';
import { type LastSecondMean, vectorSum } from '../phases/contact-conditions';
import type { Measured } from '../phases/run-quantities';
import { statedAccuracy } from './accuracy';
import type { CheckedSource } from './data-quality';
import type { SessionMotion } from './estimated-motion';

/** A mean with the source and column it comes from. */
export type NamedMean = LastSecondMean &
  Readonly<{ name: string; quantity: string; source: CheckedSource }>;

export type Condition = Readonly<{
  measured: Measured;
  unit: string;
  parts: readonly NamedMean[];
  systematic: number | null;
  method: string;
}>;

/** A condition that is one channel's mean; `null` without it. */
export function single(
  mean: NamedMean | null,
  unit: string,
  quantity: string,
  method: string,
): Condition | null {
  if (mean === null) return null;
  const systematic = statedAccuracy(mean.source.source.declared, [quantity]);
  return { measured: mean, unit, parts: [mean], systematic, method };
}

/** A condition that is the vector sum of two means; `null` without both. */
export function pair(
  a: NamedMean | null,
  b: NamedMean | null,
  unit: string,
  quantity: string,
  method: string,
): Condition | null {
  if (a === null || b === null) return null;
  const systematic = statedAccuracy(a.source.source.declared, [quantity]);
  return { measured: vectorSum(a, b), unit, parts: [a, b], systematic, method };
}

/**
 * The lateral offset by the estimated y and z in place of their samples, where both are those of the motion:
 * one second of samples holds more noise than what the travelled way carries on from those before.
 */
export function estimatedOffset(
  condition: Condition | null,
  session: SessionMotion | null,
): Condition | null {
  if (condition === null || session === null) return condition;
  if (condition.parts.some(({ source }) => !session.parts.includes(source))) return condition;
  const { tS, yM, zM, lateralSdM } = session.motion;
  const fromS = Math.min(...condition.parts.map((part) => part.fromS));
  const toS = Math.max(...condition.parts.map((part) => part.toS));
  let [y, z, sd, count] = [0, 0, 0, 0];
  for (let row = lowerBound(tS, fromS); row < tS.length && (tS[row] ?? toS) <= toS; row++) {
    y += yM[row] ?? Number.NaN;
    z += zM[row] ?? Number.NaN;
    sd += lateralSdM[row] ?? Number.NaN;
    count++;
  }
  if (count === 0 || Number.isNaN(y + z + sd)) return condition;
  const value = Math.hypot(y / count, z / count);
  // Both ways alike: near zero it is known no better than noise across lets it.
  const half = lengthHalf95(value, sd / count, sd / count);
  if (half >= condition.measured.half) return condition;
  return {
    ...condition,
    measured: { value, half },
    method: `${condition.method}, as estimated from all position samples and the way travelled,`,
  };
}

/** A channel's value or rate before contact by its name; `null` where it has none. */
type BeforeContact = (quantity: string) => NamedMean | null;

/** A condition with the stretch of data it rests on, in words. */
type Derived = Readonly<{ name: string; condition: Condition; over: string }>;

const FILTER =
  'of the measured position, by a filter that lets it wander or sway as much as the samples ask for,';

function derived(name: string, condition: Condition | null): readonly Derived[] {
  if (condition === null) return [];
  const spanS = Math.max(...condition.parts.map(({ fromS, toS }) => toS - fromS));
  return [{ name, condition, over: `over the last ${spanS.toFixed(0)} s` }];
}

/**
 * Conditions at contact from position alone.
 *
 * @param rate rate of a channel at the end of its data
 * @param level value of a channel half a second before it
 */
export function derivedConditions(rate: BeforeContact, level: BeforeContact): readonly Derived[] {
  const [x, y, z] = [rate('position.x'), rate('position.y'), rate('position.z')];
  const axial = single(x, 'm/s', 'velocity.x', `Minus the axial rate at the end ${FILTER}`);
  const sum = 'Root of the sum of squares of';
  const offsetWords = `${sum} y and z half a second before the end ${FILTER}`;
  const offset = pair(level('position.y'), level('position.z'), 'm', 'position.y', offsetWords);
  const across = pair(
    y,
    z,
    'm/s',
    'velocity.y',
    `${sum} the rates of y and z at the end ${FILTER}`,
  );
  return [
    ...derived('closing_rate', axial === null ? null : turned(axial)),
    ...derived('lateral_offset', offset),
    ...derived('lateral_rate', across),
  ];
}

/** The same condition with its sign turned: closing is positive, x falls meanwhile. */
export function turned(condition: Condition): Condition {
  const { value, half } = condition.measured;
  return { ...condition, measured: { value: -value, half } };
}
