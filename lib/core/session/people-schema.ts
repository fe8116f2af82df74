/** The schema of people.yaml: what people add to a session. Its JSON Schema is made from this. */
import { z } from 'zod';

const name = z.string().min(1).max(400);

/** Who said it and why: both free text. */
const said = {
  by: name.optional().describe('Who says so.'),
  reason: z.string().min(1).max(2000).optional().describe('Why, in words.'),
};

const place = {
  source: name.describe('File of the log.'),
  line: z.int().min(1).describe('Line of the log on which the entry starts.'),
  nth: z.int().min(1).optional().describe('Which of the values spoken on that line. Default 1.'),
};

const judgementSchema = z
  .strictObject({ ...place, callout: z.enum(['accept', 'reject']), ...said })
  .describe('Takes a doubtful spoken value as certain, or keeps a value out.');

const correctedRangeSchema = z
  .strictObject({
    ...place,
    callout: z.literal('correct'),
    said_m: z.number().positive().max(1e9).describe('The range that was said, m.'),
    ...said,
  })
  .describe('What was really said: a range.');

const correctedRateSchema = z
  .strictObject({
    ...place,
    callout: z.literal('correct'),
    said_mps: z.number().min(-1e6).max(1e6).describe('The closing rate that was said, m/s.'),
    ...said,
  })
  .describe('What was really said: a closing rate.');

const seconds = z.number().min(-1e9).max(1e9);

const tieSchema = z
  .strictObject({
    source: name.describe('File of the source.'),
    tie_point: z.tuple([seconds, seconds]).describe('[source_s, session_s], s from zero.'),
    sd_s: z
      .number()
      .positive()
      .max(3600)
      .optional()
      .describe('Standard deviation of the placing, s. Default 0.2.'),
    ...said,
  })
  .describe('A moment of the source set on session time by hand.');

const stretchSchema = z
  .strictObject({
    source: name.describe('File of the telemetry.'),
    channel: name.describe('Column as written in the file.'),
    from_s: seconds.describe('Start of the stretch, session time, s.'),
    to_s: seconds.describe('End of the stretch, session time, s.'),
    use: z
      .enum(['keep', 'leave-out'])
      .describe('keep: used although it looks faulty. leave-out: in no figure.'),
    ...said,
  })
  .describe('Whether a stretch of a channel is used.');

const dispositionSchema = z
  .strictObject({
    rule: name.describe('Id of the rule.'),
    disposition: z.enum(['waived', 'amended']).describe('Set aside, or other words were to hold.'),
    given_by: name.optional().describe('Who decided it.'),
    at_s: seconds.optional().describe('Session time of the decision, s. Default: of the entry.'),
    entry: z
      .strictObject({ source: name, line: z.int().min(1) })
      .optional()
      .describe('The log entry in which it was given.'),
    amended_to: z.string().min(1).max(2000).optional().describe('The words that were to hold.'),
    ...said,
  })
  .describe('What people decided about a rule. Its verdict stays as it is.');

const size = z.number().positive().max(1e9);

const taskSchema = z
  .strictObject({
    name: name.describe('Tells the tasks of a session apart.'),
    pilot: name.describe('Who flew it.'),
    from_s: seconds.describe('Start, session time, s.'),
    to_s: seconds.describe('End, session time, s.'),
    quantity: name.describe('What was to be kept: y, z, lateral_offset, attitude_error.roll, ...'),
    target: z.number().min(-1e9).max(1e9).optional().describe('Where, in SI. Default 0.'),
    desired: size.describe('Half-width of desired performance about the target, SI.'),
    adequate: size.describe('Half-width of adequate performance about the target, SI.'),
    ...said,
  })
  .describe('A task flown by hand, with its bounds.');

const ratingSchema = z
  .strictObject({
    task: name.describe('Name of the task.'),
    scale: name.describe('cooper-harper, bedford or oscillation.'),
    answers: z
      .record(z.string().max(100), z.enum(['yes', 'no']))
      .describe('The answers that led to the rating, by question.'),
    rating: z.int().min(1).max(10).describe('The rating.'),
    rater: name.describe('Who gave it.'),
    remark: z.string().min(1).max(2000).optional().describe('What the rater said of it.'),
    ...said,
  })
  .describe('A rating of a task.');

const motion = z.enum(['hold', 'closing', 'opening', 'crossing']);
const statedSd = z
  .number()
  .positive()
  .max(3600)
  .optional()
  .describe('Standard deviation of the instant, s. Left out: none is stated.');

const movedEdgeSchema = z
  .strictObject({
    edge_s: seconds.describe('Where the edge was computed (or a run was split), session time, s.'),
    between: z.tuple([motion, motion]).describe('Motion before and after the edge.'),
    moved_to_s: seconds.describe('Where it was moved to, session time, s.'),
    sd_s: statedSd,
    ...said,
  })
  .describe('An edge between two runs set by hand.');

const splitRunSchema = z
  .strictObject({
    run: motion.describe('Motion of the run.'),
    split_at_s: seconds.describe('Where it is split, session time, s.'),
    sd_s: statedSd,
    ...said,
  })
  .describe('A run split in two.');

const namedRunSchema = z
  .strictObject({
    run: motion.describe('Motion of the run.'),
    from_s: seconds.describe('About its start, session time, s.'),
    to_s: seconds.describe('About its end, session time, s.'),
    step: name.nullable().describe('Id of the step of the plan that it belongs to; null: to none.'),
    ...said,
  })
  .describe('A run given to a step of the plan.');

const contactSchema = z
  .strictObject({
    contact_s: seconds.describe('Instant of contact, session time, s.'),
    sd_s: z.number().positive().max(3600).describe('Standard deviation of the instant, s.'),
    basis: z.string().min(1).max(2000).describe('What it rests on, in words.'),
    ...said,
  })
  .describe('Contact declared by hand.');

const subScale = z.number().min(0).max(100).multipleOf(5);

const loadSchema = z
  .strictObject({
    task: name.describe('Name of the task.'),
    scale: z.literal('task-load'),
    load: z
      .strictObject({
        mental: subScale,
        physical: subScale,
        temporal: subScale,
        performance: subScale,
        effort: subScale,
        frustration: subScale,
      })
      .describe('NASA-TLX: six sub-scales, 0 to 100 in steps of 5.'),
    rater: name.describe('Who gave it.'),
    remark: z.string().min(1).max(2000).optional().describe('What the rater said of it.'),
    ...said,
  })
  .describe('A task load, raw.');

const answerSchema = z
  .strictObject({
    text: z.string().min(1).max(20_000).describe('The answer, word for word.'),
    by: name.describe('Who gave it.'),
    at: z.iso.datetime().describe('When it was written down, UTC.'),
  })
  .describe('An answer of the crew.');

const questionSchema = z
  .strictObject({
    number: z.int().min(1).max(1e6).optional().describe('Its number. Default: its place here.'),
    from_s: seconds.describe('Start of the stretch, session time, s.'),
    to_s: seconds.describe('End of the stretch, session time, s.'),
    channels: z.array(name).max(64).optional().describe('Channels drawn beside it.'),
    question: z.string().min(1).max(2000).describe('What is asked.'),
    asked_by: name.optional().describe('Who asks.'),
    answers: z.array(answerSchema).max(1000).optional().describe('Answers, the oldest first.'),
  })
  .describe('A question to the crew about a stretch. Nothing is computed from it.');

const recordingSchema = z
  .strictObject({
    file: z
      .string()
      .regex(/^[^/\\]{1,200}$/, 'a file name without folders')
      .describe('Name of the file, in the folder recordings/ where it travels along.'),
    sha256: z
      .string()
      .regex(/^[0-9a-f]{64}$/, '64 hexadecimal digits')
      .describe('SHA-256 of the file.'),
    bytes: z.int().min(1).describe('Size of the file.'),
    media_type: z.string().min(1).max(100).describe('audio/wav, video/mp4, ...'),
    length_s: z.number().positive().max(1e7).optional().describe('Length, s, where it is known.'),
    tie_points: z
      .array(z.tuple([z.number().min(0).max(1e7), seconds]))
      .max(100)
      .optional()
      .describe('[recording_s, session_s] each: one gives the start, two the drift as well.'),
    at: z.iso.datetime().optional().describe('When its clock was stated, UTC.'),
    ...said,
  })
  .describe('A recording of sound or picture. Nothing is computed from it.');

export const peopleFileSchema = z
  .strictObject({
    clock_corrections: z
      .array(z.union([judgementSchema, correctedRangeSchema, correctedRateSchema, tieSchema]))
      .max(10_000)
      .optional()
      .describe('Judgements of spoken values, and tie points set by hand.'),
    stretch_corrections: z
      .array(stretchSchema)
      .max(10_000)
      .optional()
      .describe('Stretches of channels kept or left out.'),
    phase_corrections: z
      .array(z.union([movedEdgeSchema, splitRunSchema, namedRunSchema, contactSchema]))
      .max(10_000)
      .optional()
      .describe('Edges moved, runs split or given to a step, contact declared.'),
    rule_dispositions: z
      .array(dispositionSchema)
      .max(10_000)
      .optional()
      .describe('Rules that were waived or amended.'),
    handling_tasks: z
      .array(taskSchema)
      .max(1_000)
      .optional()
      .describe('Tasks that were flown by hand.'),
    handling_ratings: z
      .array(z.union([ratingSchema, loadSchema]))
      .max(10_000)
      .optional()
      .describe('Ratings given to those tasks.'),
    crew_questions: z
      .array(questionSchema)
      .max(1_000)
      .optional()
      .describe('Questions to the crew with their answers.'),
    recordings: z
      .array(recordingSchema)
      .max(100)
      .optional()
      .describe('Recordings of sound or picture with their clocks.'),
  })
  .describe('What people add to a session.');

export type PeopleFileData = z.infer<typeof peopleFileSchema>;
