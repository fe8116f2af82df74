/** What session.yaml says about simulator runs, and what was flown beside them. */
import type { SessionData } from './session-schema';

/**
 * `isFlight`: it was flown, and stands beside the runs; absent for a simulator run. A `prediction` was made before the flight, with inputs and a first state of its own; a
 * `reconstruction` is driven by the recorded inputs from the flown first state. `null` = not stated.
 */
export type RunAbout = Readonly<{
  isFlight?: true;
  basis: 'prediction' | 'reconstruction';
  version: string | null;
  initialState: string | null;
  inputs: 'recorded' | 'own';
  massKg: number | null;
  navigationModel: string | null;
  configuration: string | null;
}>;

/** What was flown, in the same words; `null` = not stated. */
export type FlownAbout = Pick<RunAbout, 'massKg' | 'navigationModel' | 'configuration'>;

type RunsData = NonNullable<SessionData['simulations']>;
type AboutData = Omit<RunsData, 'files' | 'like' | 'flown' | 'runs' | 'run_column'>;

/**
 * `parts` say what differs for runs whose names fit a pattern: in order, each over the one before. One with
 * `is` is of a session by itself: nothing said of other runs holds for it.
 */
export type SimulationsAbout = Readonly<{
  flown: FlownAbout;
  all: RunAbout;
  parts: readonly Readonly<{
    files: string;
    said: AboutData;
    is?: 'flight' | 'simulation';
  }>[];
}>;

/** As a prediction where nothing is said. */
const NOTHING_SAID: RunAbout = {
  basis: 'prediction',
  version: null,
  initialState: null,
  inputs: 'own',
  massKg: null,
  navigationModel: null,
  configuration: null,
};

function aboutOf(data: AboutData, otherwise: RunAbout): RunAbout {
  const basis = data.basis ?? otherwise.basis;
  const isNewBasis = data.basis !== undefined && data.basis !== otherwise.basis;
  const inputs = isNewBasis || otherwise === NOTHING_SAID ? inputsOf(basis) : otherwise.inputs;
  return {
    basis,
    version: data.version ?? otherwise.version,
    initialState: data.initial_state ?? (isNewBasis ? null : otherwise.initialState),
    inputs: data.inputs ?? inputs,
    massKg: data.mass_kg ?? otherwise.massKg,
    navigationModel: data.navigation_model ?? otherwise.navigationModel,
    configuration: data.configuration ?? otherwise.configuration,
  };
}

function inputsOf(basis: RunAbout['basis']): RunAbout['inputs'] {
  return basis === 'reconstruction' ? 'recorded' : 'own';
}

/** Reads what is said about runs. */
export function simulationsAbout({ flown, runs, ...said }: RunsData): SimulationsAbout {
  const all = aboutOf(said, NOTHING_SAID);
  return {
    flown: {
      massKg: flown?.mass_kg ?? null,
      navigationModel: flown?.navigation_model ?? null,
      configuration: flown?.configuration ?? null,
    },
    all,
    parts: (runs ?? []).map(({ files, ...part }) => ({ files, said: part })),
  };
}

/** What is said about one run, by its name. */
export function aboutRun(about: SimulationsAbout | undefined, name: string): RunAbout {
  if (about === undefined) return NOTHING_SAID;
  const fitting = about.parts.filter(({ files }) => patternMatcher(files).test(name));
  return fitting.reduce<RunAbout>((run, { said, is }) => {
    if (is === undefined) return aboutOf(said, run);
    const itself = aboutOf(said, NOTHING_SAID);
    return is === 'flight' ? { ...itself, isFlight: true } : itself;
  }, about.all);
}

/** `*` stands for any characters of a name, `?` for one. */
export function patternMatcher(pattern: string): RegExp {
  const parts = pattern.replace(/[.+^${}()|[\]\\]/g, '\\$&');
  return new RegExp(`^${parts.replaceAll('*', '.*').replaceAll('?', '.')}$`);
}
