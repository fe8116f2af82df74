/** Evidence with its instant as a figure, and the discrete channels it may come from. */
import type { EvidenceSource } from '../figure';
import type { DiscreteColumn } from '../sequence/discretes';
import { bestFirst, type Sighting } from '../sequence/sighting';
import type { SeenThing } from './contact-report';
import type { CheckedSource } from './data-quality';
import { figureOf, type Origin } from './figure-of';

/** Where evidence may come from: the motion's own origin, and all files by name. */
export type SeenOrigins = Readonly<{
  motion: Origin;
  files: ReadonlyMap<string, EvidenceSource>;
}>;

function originOf({ source, channels }: Sighting, origins: SeenOrigins): Origin {
  if (source === null) return origins.motion;
  const file = origins.files.get(source);
  return { sources: file === undefined ? [] : [file], channels };
}

/** Sightings as they leave the core: best evidence first. */
export function seenThings(
  sightings: readonly Sighting[],
  origins: SeenOrigins,
): readonly SeenThing[] {
  return bestFirst(sightings).map((one) => ({
    kind: one.kind,
    timeS: figureOf(originOf(one, origins), {
      value: one.atS,
      unit: 's',
      random: one.halfS,
      method: one.method,
      fromS: one.atS,
      toS: one.atS,
      ...(one.halfS === null
        ? { reason: 'The log does not state the accuracy of its times.' }
        : {}),
    }),
    words: one.words,
    source: one.source,
    line: one.line,
  }));
}

/** The channels of that quantity or name, of all telemetry. */
export function discreteColumns(
  sources: readonly CheckedSource[],
  as: string,
): readonly DiscreteColumn[] {
  return sources.flatMap(({ source, tS, channels }) =>
    channels
      .filter(({ channel }) => channel.as === as)
      .map(({ channel }) => ({
        source: source.file,
        channel: channel.name,
        tS,
        values: channel.values,
      })),
  );
}
