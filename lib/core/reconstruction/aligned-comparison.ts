/** The flight held against its runs, place by place, in the way that is asked. */
import {
  type Alignment,
  closingSteps,
  passAsked,
  placesOfFlight,
  timesAtPlaces,
  unitOfPlaces,
} from '../compare/alignment';
import { ensembleBand } from '../compare/ensemble-band';
import { placeInstants, type Track, valuesAtPlaces } from '../compare/track';
import { nameFromId } from '../session/name-from-id';
import type { CompareTracks } from './compare-tracks';
import { COMPARED_QUANTITIES } from './compared-names';
import {
  compareQuantity,
  distanceFromFlight,
  type HeldQuantity,
  listed,
  type Opened,
} from './compared-quantity';
import type { AlignedComparison, AskedTolerances, RunDistance } from './comparison';
import { figureOf, withPeople } from './figure-of';
import { lagFinder } from './lag-figure';
import { type ComparedOrigins, comparedOrigins } from './runs-origin';

/** `run`: the run held against the flight, by name; null for the one most like it. */
export type CompareQuestion = Readonly<{
  alignment: Alignment;
  run: string | null;
  tolerances: AskedTolerances;
}>;

/** To start with; what a programme asks is its own. */
export const START_TOLERANCES: AskedTolerances = {
  kind: 'either',
  percent: 10,
  absolute: { m: 0.05, 'm/s': 0.005, rad: (0.2 * Math.PI) / 180, 'rad/s': (0.02 * Math.PI) / 180 },
};

export const START_QUESTION: CompareQuestion = {
  alignment: { kind: 'axial' },
  run: null,
  tolerances: START_TOLERANCES,
};

/** A track's values at the places, one column a quantity; `there` counts the places it is at. */
type Aligned = Readonly<{
  track: Track;
  timesS: Float64Array;
  there: number;
  values: readonly Float64Array[];
}>;

type Question = Parameters<typeof timesAtPlaces>[2];

/** Aligns tracks one after the other into one buffer: thousands of small ones would cost more than the work. */
function trackAligner(places: Float64Array, question: Question, tracks: number) {
  const numbers = new Float64Array(tracks * COMPARED_QUANTITIES.length * places.length);
  let used = 0;
  const column = (): Float64Array => {
    used += places.length;
    return numbers.subarray(used - places.length, used);
  };
  return (track: Track): Aligned => {
    const timesS = timesAtPlaces(track, places, question);
    const at = placeInstants(track, timesS);
    let there = 0;
    for (const row of at.row) if (row >= 0) there++;
    const values = COMPARED_QUANTITIES.map(({ name }) => {
      const own = track.columns.get(name);
      const into = column();
      return own === undefined ? into.fill(Number.NaN) : valuesAtPlaces(own, at, into);
    });
    return { track, timesS, there, values };
  };
}

function hasValue(values: Float64Array): boolean {
  return values.some((value) => !Number.isNaN(value));
}

function holdTogether(
  flight: Aligned,
  runs: readonly Aligned[],
  places: Float64Array,
): readonly (HeldQuantity & Readonly<{ index: number }>)[] {
  return COMPARED_QUANTITIES.flatMap((named, index) => {
    const own = flight.values[index];
    const values = runs.map((run) => run.values[index] ?? new Float64Array(0));
    if (own === undefined || !flight.track.columns.has(named.name)) return [];
    if (!values.some(hasValue)) return [];
    const band = ensembleBand(values, places.length);
    return [{ named, index, places, flight: own, runs: values, band }];
  });
}

/** Every run by its distance from the flight, the nearest first; runs that cannot be compared are last. */
function byDistance(runs: readonly Aligned[], held: readonly HeldQuantity[]): RunDistance[] {
  const far = runs.map(({ track }, index): RunDistance => {
    const distance = distanceFromFlight(index, held);
    return { name: track.name, distance: Number.isNaN(distance) ? null : distance };
  });
  const size = ({ distance }: RunDistance): number => distance ?? Number.POSITIVE_INFINITY;
  // Sorting keeps the order of equals: the first of them counts as the nearest.
  return far.sort((a, b) => (size(a) === size(b) ? 0 : size(a) - size(b)));
}

const PASSED = { axial: 'axial distance', range: 'range' } as const;

function eventWords(event: string): string {
  if (event === 'contact') return 'contact';
  const [edge = '', id = ''] = [
    event.slice(0, event.indexOf(':')),
    event.slice(event.indexOf(':') + 1),
  ];
  return `the ${edge} of ${nameFromId(id).toLowerCase()}`;
}

function alignedWords(alignment: Alignment, { step, sense }: CompareTracks['pass']): string {
  if (alignment.kind === 'axial' || alignment.kind === 'range')
    return `${PASSED[alignment.kind]}, on the last ${sense} pass inside the step ${step}`;
  if (alignment.kind === 'time') return `time since the start of the step ${alignment.step}`;
  return `time from ${eventWords(alignment.event)}`;
}

/** Why the flight is at none of the places, as a clause. */
function nowhereReason({ flight, pass }: CompareTracks, alignment: Alignment): string {
  if (alignment.kind === 'event') {
    return `the flight has no ${eventWords(alignment.event).replace(/^the /, '')}`;
  }
  const step = alignment.kind === 'time' ? alignment.step : pass.step;
  if (flight.steps[step] === undefined) return `the flight has not flown the step ${step}`;
  if (alignment.kind === 'time') return `the step ${step} of the flight is too short`;
  return `the flight has no ${PASSED[alignment.kind]} inside the step ${step} that it passes ${pass.sense}`;
}

function reportOf(
  flight: Aligned,
  runs: readonly Aligned[],
  nowhere: string,
): AlignedComparison['report'] {
  // By the instants that there are: a place without one would make the stretch no number.
  const instants = flight.timesS.filter((timeS) => !Number.isNaN(timeS));
  const places = flight.timesS.length;
  const counts = runs.map(({ there }) => there);
  const noRun = counts.every((each) => each === 0);
  return {
    places,
    whole: counts.filter((each) => each === places && places > 0).length,
    partly: counts.filter((each) => each > 0 && each < places).length,
    none: runs.flatMap(({ track }, index) => (counts[index] === 0 ? [track.name] : [])),
    fromS: instants.length === 0 ? null : Math.min(...instants),
    toS: instants.length === 0 ? null : Math.max(...instants),
    reason:
      instants.length === 0 ? nowhere : noRun ? 'no run is at any place that the flight has' : null,
  };
}

function openedRun(
  asked: string | null,
  runs: readonly Aligned[],
  order: readonly RunDistance[],
): Aligned | null {
  // One run at the places makes a band without width, in which nothing has a distance: it is the one to open.
  const inBand = new Set(order.map(({ name }) => name));
  const there = runs.filter((each) => each.there > 0 && inBand.has(each.track.name));
  const only = there.length === 1 ? there[0]?.track.name : undefined;
  const nearest = order[0]?.distance === null ? only : order[0]?.name;
  const name = runs.some(({ track }) => track.name === asked) ? asked : nearest;
  return runs.find(({ track }) => track.name === name) ?? null;
}

/** What people set of the flight that its places rest on. */
function peopleBehind({ people = {}, pass }: CompareTracks, alignment: Alignment) {
  if (alignment.kind === 'event' && alignment.event === 'contact') return people.contact ?? [];
  if (alignment.kind === 'event') return people[alignment.event.replace(/^(start|end):/, 'step:')];
  return people[`step:${alignment.kind === 'time' ? alignment.step : pass.step}`];
}

function originsOf(tracks: CompareTracks, alignment: Alignment): ComparedOrigins {
  const { sources, channels, files, sha256 } = tracks;
  const all = [...tracks.runs, ...tracks.others];
  const runs = all.map((run) => ({ file: run.name, sha256: run.sha256 }));
  const counted = tracks.runs.map(({ name }) => name);
  const flight = withPeople({ sources, channels }, peopleBehind(tracks, alignment) ?? []);
  return comparedOrigins(flight, { files, sha256, runs }, counted);
}

/**
 * Holds the flight against its runs on what is asked. Each run is resampled to the places first, so that
 * each counts the same whatever its rate of rows.
 */
export function compareAligned(
  kept: CompareTracks,
  { alignment, run, tolerances }: CompareQuestion,
): AlignedComparison {
  const pass = passAsked(alignment, kept.pass);
  const tracks = { ...kept, pass };
  const places = placesOfFlight(tracks.flight, { alignment, pass });
  const count = 1 + tracks.runs.length + tracks.others.length;
  const align = trackAligner(places, { alignment, pass }, count);
  const flight = align(tracks.flight);
  const runs = tracks.runs.map(align);
  const others = tracks.others.map(align);
  const held = holdTogether(flight, runs, places);
  const order = byDistance(runs, held);
  const opened = openedRun(run, [...runs, ...others], order);
  const origins = originsOf(tracks, alignment);
  const unit = unitOfPlaces(alignment);
  const lagOf = lagFinder(tracks, opened?.track ?? null);
  const nearest = order[0];
  return {
    alignedOn: alignedWords(alignment, pass),
    unit,
    report: reportOf(flight, runs, nowhereReason(tracks, alignment)),
    flightPassS: listed(flight.timesS),
    quantities: held.map((each) => {
      const open: Opened | null =
        opened === null
          ? null
          : {
              name: opened.track.name,
              values: opened.values[each.index] ?? new Float64Array(0),
              lag: lagOf(each.named.name),
            };
      return compareQuantity(each, open, { origins, tolerances, unit });
    }),
    order,
    choices: choicesOf(kept),
    opened: opened?.track.name ?? null,
    nearest:
      nearest === undefined || nearest.distance === null
        ? null
        : { name: nearest.name, distance: distanceFigure(nearest.distance, origins) },
  };
}

/** Steps and events that the flight and at least one run have. */
function choicesOf({ flight, runs, others, pass }: CompareTracks): AlignedComparison['choices'] {
  const all = [...runs, ...others];
  const steps = Object.keys(flight.steps).filter((id) => all.some((run) => id in run.steps));
  const hasContact = flight.contactS !== null && all.some(({ contactS }) => contactS !== null);
  const closing = new Set(closingSteps(flight));
  return {
    steps,
    closing: steps.filter((id) => id !== pass.step && closing.has(id)),
    events: [
      ...(hasContact ? ['contact'] : []),
      ...steps.flatMap((id) => [`start:${id}`, `end:${id}`]),
    ],
  };
}

function distanceFigure(distance: number, origins: ComparedOrigins) {
  const method =
    'Root mean square of flight minus run at all places of all quantities, each in half-widths of the band (p05 to p95) there.';
  return figureOf(origins.both, { value: distance, unit: '1', random: null, method });
}
