/** Writes the demo's session folder: the same bytes every time, on every supported Node. */
import { mkdir, mkdtemp, rename, rm, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { planYaml } from './demo-plan';
import { flyDemo } from './fly';
import { eventsCsv, loopVtt } from './logs';
import { rangefinderCsv } from './navigation';
import {
  FLIGHT_YAML,
  PEOPLE_YAML,
  RULES_YAML,
  SCENARIO_README,
  SESSION_YAML,
} from './session-files';
import { simulatorRuns } from './simulator-runs';
import { telemetryCsv } from './telemetry-file';

/** File name and text of every file of the flight alone, without simulator runs. */
export function flightFiles(): ReadonlyMap<string, string> {
  const truth = flyDemo();
  return new Map([
    ['README.md', SCENARIO_README],
    ['session.yaml', FLIGHT_YAML],
    ['plan.yaml', planYaml()],
    ['rules.yaml', RULES_YAML],
    ['people.yaml', PEOPLE_YAML],
    ['telemetry.csv', telemetryCsv(truth)],
    ['rangefinder.csv', rangefinderCsv(truth)],
    ['events.csv', eventsCsv(truth)],
    ['loop.vtt', loopVtt(truth)],
  ]);
}

/** File name and text of every file of the demo's folder. */
export function demoFiles(): ReadonlyMap<string, string> {
  return new Map([...flightFiles(), ['session.yaml', SESSION_YAML], ...simulatorRuns()]);
}

/**
 * Makes the demo's session folder at `dir`; what was there before is replaced.
 *
 * The files are written to a folder beside it, which is then renamed: `dir` either holds the whole
 * demo or was not touched.
 *
 * @param files file name and text of what is written
 */
export async function writeDemoFolder(
  dir: string,
  files: ReadonlyMap<string, string>,
): Promise<void> {
  const target = path.resolve(dir);
  await mkdir(path.dirname(target), { recursive: true });
  const parts = await mkdtemp(`${target}.part-`);
  try {
    for (const [name, text] of files) {
      await mkdir(path.dirname(path.join(parts, name)), { recursive: true });
      await writeFile(path.join(parts, name), text);
    }
    await rm(target, { recursive: true, force: true });
    await rename(parts, target);
  } catch (error) {
    await rm(parts, { recursive: true, force: true });
    throw error;
  }
}
