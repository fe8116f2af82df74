/** A canonical description of everything a reconstruction is computed from. */
import { checksum } from '../math/checksum';
import type {
  EventSource,
  SessionInput,
  SimulationSet,
  TelemetrySource,
} from '../session/session-input';
import { stampingOf, statedOf } from '../session/stamping';
import { BUILT_IN_LEAP_TABLE, leapTable } from '../time/leap-table';

function telemetryRead({ tS, channels, stampFaults, declared }: TelemetrySource) {
  return {
    rows: tS.length,
    stamps: checksum(tS),
    channels: channels.map(({ name, as, unit, values }) => ({
      name,
      as,
      unit,
      values: checksum(values),
    })),
    stampFaults,
    declared,
  };
}

function simulationsRead({ files, like, about, runs }: SimulationSet) {
  return {
    files,
    like,
    ...(about === undefined ? {} : { about }),
    runs: runs.map((run) => ({ file: run.file, sha256: run.sha256, ...telemetryRead(run) })),
  };
}

function readAs(source: TelemetrySource | EventSource) {
  return source.type === 'telemetry'
    ? telemetryRead(source)
    : {
        entries: source.entries,
        ...statedOf(stampingOf(source)),
      };
}

/**
 * The inputs as one text, the same for the same inputs: files by name and hash, what was read from
 * each, the plan, the rules, the session's zero, a leap-second list in place of the
 * built-in table, what people said. Samples are not repeated: their
 * files' hashes and a checksum of each column stand for them.
 *
 * @returns JSON with keys in a fixed order
 */
export function inputsText(input: SessionInput, engine: string): string {
  const table = leapTable().id;
  return JSON.stringify({
    engine,
    ...(table === BUILT_IN_LEAP_TABLE.id ? {} : { leapTable: table }),
    title: input.title,
    kind: input.kind,
    zeroTaiNs: input.zero.taiNs.toString(),
    zeroUtc: input.zeroUtc,
    ...(input.missionZero === undefined
      ? {}
      : { missionZeroTaiNs: input.missionZero.taiNs.toString() }),
    plan: input.plan,
    planSha256: input.planSha256,
    rules: input.rules,
    rulesSha256: input.rulesSha256,
    ...(input.clockCorrections === undefined ? {} : { clockCorrections: input.clockCorrections }),
    ...(input.stretchCorrections === undefined
      ? {}
      : { stretchCorrections: input.stretchCorrections }),
    ...(input.phaseEdits === undefined ? {} : { phaseEdits: input.phaseEdits }),
    ...(input.ruleDispositions === undefined ? {} : { ruleDispositions: input.ruleDispositions }),
    ...(input.handlingTasks === undefined ? {} : { handlingTasks: input.handlingTasks }),
    ...(input.handlingRatings === undefined ? {} : { handlingRatings: input.handlingRatings }),
    ...(input.simulations === undefined ? {} : { simulations: simulationsRead(input.simulations) }),
    notComputed: input.notComputed,
    sources: input.sources.map((source) => ({
      file: source.file,
      sha256: source.sha256,
      type: source.type,
      clock: source.clock,
      rowsRead: source.rowsRead,
      rowsRejected: source.rowsRejected,
      ...readAs(source),
    })),
  });
}
