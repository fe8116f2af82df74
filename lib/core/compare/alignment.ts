/** What a flight and its runs are brought together on. */
import { lowerBound } from '../math/search';
import type { PassSense } from './last-pass';
import { passTimes, type RunColumn } from './run-column';
import type { Track } from './track';

/**
 * `axial` and `range`: the last pass through each distance inside a step, the final one where none is
 * named. `time`: seconds since
 * the start of a step. `event`: seconds from contact, or from the start or the end of a step.
 */
export type Alignment =
  | Readonly<{ kind: 'axial'; step?: string }>
  | Readonly<{ kind: 'range'; step?: string }>
  | Readonly<{ kind: 'time'; step: string }>
  | Readonly<{ kind: 'event'; event: 'contact' | `start:${string}` | `end:${string}` }>;

/** A step through whose distances the motion passes, and which way it runs: the final one, or one asked for. */
export type FinalPass = Readonly<{ step: string; sense: PassSense }>;

/** At most this many places: more than a drawing can show. */
export const MOST_PLACES = 200;
/** How far before and after an event is looked at, s. Our own choice. */
const EVENT_REACH_S = 120;

const COLUMN_OF = { axial: 'axial_distance', range: 'range' } as const;

/** The instant of an event; NaN where the track has none. */
function eventTime({ steps, contactS }: Track, event: string): number {
  if (event === 'contact') return contactS ?? Number.NaN;
  const cut = event.indexOf(':');
  const span = steps[event.slice(cut + 1)];
  return span?.[event.startsWith('start:') ? 0 : 1] ?? Number.NaN;
}

function distanceOf(track: Track, kind: 'axial' | 'range'): RunColumn | null {
  const values = track.columns.get(COLUMN_OF[kind]);
  return values === undefined ? null : { tS: track.tS, values, spans: track.spans };
}

/**
 * When a track is at each place, s of its own time; NaN where it never is, or not inside what is
 * compared.
 */
export function timesAtPlaces(
  track: Track,
  places: Float64Array,
  { alignment, pass }: Readonly<{ alignment: Alignment; pass: FinalPass }>,
): Float64Array {
  const nowhere = () => new Float64Array(places.length).fill(Number.NaN);
  if (alignment.kind === 'axial' || alignment.kind === 'range') {
    const distance = distanceOf(track, alignment.kind);
    const span = track.steps[pass.step];
    if (distance === null || span === undefined) return nowhere();
    const question = { fromS: span[0], toS: span[1], gridM: places, sense: pass.sense };
    return passTimes(distance, question);
  }
  if (alignment.kind === 'event') {
    const zeroS = eventTime(track, alignment.event);
    return places.map((place) => zeroS + place);
  }
  const span = track.steps[alignment.step];
  if (span === undefined) return nowhere();
  return places.map((place) => (span[0] + place <= span[1] ? span[0] + place : Number.NaN));
}

/** 1, 2 or 5 times a power of ten, at or above a size. */
function roundStep(size: number): number {
  const ten = 10 ** Math.floor(Math.log10(size));
  const factor = [1, 2, 5, 10].find((each) => each * ten >= size * (1 - 1e-9)) ?? 10;
  return factor * ten;
}

function evenPlaces(low: number, high: number): Float64Array {
  const step = roundStep(Math.max(1e-3, (high - low) / (MOST_PLACES - 1)));
  const first = Math.ceil(low / step - 1e-9);
  const count = Math.max(0, Math.floor(high / step + 1e-9) - first + 1);
  // Divided, not multiplied: 3 / 10 is 0.3, 3 x 0.1 is not.
  const inverse = 1 / step;
  const at = (index: number): number =>
    step < 1 ? (first + index) / Math.round(inverse) : (first + index) * step;
  return Float64Array.from({ length: count }, (_, index) => at(index));
}

function distancePlaces(flight: Track, kind: 'axial' | 'range', pass: FinalPass): Float64Array {
  const distance = distanceOf(flight, kind);
  const span = flight.steps[pass.step];
  if (distance === null || span === undefined) return new Float64Array(0);
  let highM = 0;
  const last = lowerBound(flight.tS, span[1]);
  for (let row = lowerBound(flight.tS, span[0]); row <= last; row++) {
    const atM = distance.values[row] ?? Number.NaN;
    if ((flight.tS[row] ?? Number.NaN) <= span[1] && atM > highM) highM = atM;
  }
  const stepM = Math.max(1, roundStep(highM / MOST_PLACES));
  const count = Math.floor(highM / stepM);
  return Float64Array.from({ length: count }, (_, index) => (index + 1) * stepM);
}

/** A step is one of closing where the flight passes at least so many places inwards. Our own choice. */
const CLOSING_PLACES = 10;

/** Steps in which the flight comes closer, through places enough to compare at, by id. */
export function closingSteps(flight: Track): readonly string[] {
  return Object.keys(flight.steps).filter((step) => {
    const pass: FinalPass = { step, sense: 'inward' };
    return placesOfFlight(flight, { alignment: { kind: 'axial' }, pass }).length >= CLOSING_PLACES;
  });
}

/** The step that is looked at: the one asked for, which closes where distance is asked, or the final one. */
export function passAsked(alignment: Alignment, pass: FinalPass): FinalPass {
  if (alignment.kind === 'event' || alignment.step === undefined) return pass;
  if (alignment.step === pass.step) return pass;
  return { step: alignment.step, sense: 'inward' };
}

/** The places at which the flight is compared: those that it has itself, ascending. */
export function placesOfFlight(
  flight: Track,
  question: Readonly<{ alignment: Alignment; pass: FinalPass }>,
): Float64Array {
  const { alignment, pass } = question;
  const places = placesAskedFor(flight, alignment, pass);
  const times = timesAtPlaces(flight, places, question);
  return places.filter((_, place) => !Number.isNaN(times[place]));
}

function placesAskedFor(flight: Track, alignment: Alignment, pass: FinalPass): Float64Array {
  if (alignment.kind === 'axial' || alignment.kind === 'range')
    return distancePlaces(flight, alignment.kind, pass);
  if (alignment.kind === 'time') {
    const span = flight.steps[alignment.step];
    return span === undefined ? new Float64Array(0) : evenPlaces(0, span[1] - span[0]);
  }
  const zeroS = eventTime(flight, alignment.event);
  if (Number.isNaN(zeroS)) return new Float64Array(0);
  const before = Math.max(-EVENT_REACH_S, (flight.tS[0] ?? zeroS) - zeroS);
  const after = Math.min(EVENT_REACH_S, (flight.tS.at(-1) ?? zeroS) - zeroS);
  return evenPlaces(before, after);
}

/** The unit of places: metres along the way, or seconds. */
export function unitOfPlaces({ kind }: Alignment): 'm' | 's' {
  return kind === 'axial' || kind === 'range' ? 'm' : 's';
}
