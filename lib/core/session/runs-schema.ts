/** The schema of `simulations` in session.yaml. */
import { z } from 'zod';

const name = z.string().min(1);

const configuration = {
  mass_kg: z.number().positive().optional().describe('Mass of the vehicle, kg.'),
  navigation_model: name.optional().describe('Navigation and its model, by name.'),
  configuration: name.optional().describe('Configuration of vehicle and jets, by name.'),
};

const about = {
  basis: z
    .enum(['prediction', 'reconstruction'])
    .optional()
    .describe(
      'prediction: dispersed, before the flight; reconstruction: driven by the recorded inputs from the flown first state. Default prediction.',
    ),
  version: name.optional().describe('Version of the simulator.'),
  initial_state: name.optional().describe('flown, or in words how the first state was made.'),
  inputs: z.enum(['recorded', 'own']).optional().describe('Default: as the basis says.'),
  ...configuration,
};

export const simulationsSchema = z
  .strictObject({
    files: name.describe('Pattern of the run files, as simulations/*.csv.'),
    like: name.describe('The telemetry source whose description they share.'),
    run_column: name
      .optional()
      .describe('In one Parquet file of many runs: the column that names the run.'),
    ...about,
    flown: z.strictObject(configuration).optional().describe('The same of what was flown.'),
    runs: z
      .array(z.strictObject({ files: name.describe('A name or a pattern.'), ...about }))
      .max(1000)
      .optional()
      .describe('What differs for single runs or folders; in order, each over the one before.'),
  })
  .describe('Simulator runs to hold the session against.');
