/** What figures rest on that simulator runs are behind. */

import type { EvidenceSource } from '../figure';
import { naturalOrder } from '../session/natural-order';
import type { SimulationSet } from '../session/session-input';
import { type Origin, withPeople } from './figure-of';

/**
 * Runs in words: how many of how many, and which, neighbours as from and to.
 *
 * @param all names of all runs, in their order
 */
export function runsInWords(all: readonly string[], counted: ReadonlySet<string>): string {
  const stretches: [string, string][] = [];
  let isOpen = false;
  for (const name of all) {
    const last = stretches[stretches.length - 1];
    if (!counted.has(name)) isOpen = false;
    else if (isOpen && last !== undefined) last[1] = name;
    else {
      stretches.push([name, name]);
      isOpen = true;
    }
  }
  const named = stretches.map(([from, to]) => (from === to ? from : `${from} to ${to}`));
  const share = counted.size === all.length ? `${all.length}` : `${counted.size} of ${all.length}`;
  return `${share} runs: ${named.join(', ')}`;
}

/** Origins of a comparison's figures: of the flight, of the runs, and of both together. */
export type ComparedOrigins = Readonly<{
  flight: Origin;
  runs: Origin;
  both: Origin;
  /** The flight against one run, by its name. */
  withRun: (name: string) => Origin;
}>;

/** @param counted the runs that were compared, by name */
export function comparedOrigins(
  flight: Origin,
  set: Pick<SimulationSet, 'files' | 'sha256'> & Readonly<{ runs: readonly EvidenceSource[] }>,
  counted: readonly string[],
): ComparedOrigins {
  const { channels, of, people = [] } = flight;
  const points = of === undefined ? {} : { of };
  const names = set.runs.map(({ file }) => file).sort(naturalOrder);
  const source = { file: set.files, sha256: set.sha256 };
  const runs: Origin = {
    sources: [source],
    channels,
    ...points,
    runs: runsInWords(names, new Set(counted)),
  };
  return {
    flight,
    runs,
    both: withPeople({ ...runs, sources: [...flight.sources, source] }, people),
    withRun: (name) => {
      const run = set.runs.find(({ file }) => file === name);
      if (run === undefined) return flight;
      const one = { file: run.file, sha256: run.sha256 };
      return withPeople({ sources: [...flight.sources, one], channels, ...points }, people);
    },
  };
}
