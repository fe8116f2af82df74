// `npm run soak`: the long campaigns. Damaged session folders go through the reader and through the
// command, damaged files of each format through its reader; the process that imports and publishes is
// killed at random moments. Each case follows from its seed, so a failed one is run again with
// --seed SEED --folders 1 (or --commands 1, --formats 1, --kills 1).
//
//   --seed N       first seed (default 1)          --folders N    damaged folders through the reader
//   --commands N   damaged folders, command line   --kills N      kills at random moments
//   --formats N    damaged files of each format   --points none    no death at every named point
//   --hostile none   no hostile uploads: bombs, 10,000 columns, 100,000 brackets, names that lead elsewhere
//   --calibration N  simulated approaches in each case (default 200, 0 for none): how often the stated
//                    intervals hold the truth. Seeds from 201; choices are made on 401 to 480 and 601 to 680
//   Before them the process dies at every named point of the write paths, once each.
//   --record       writes the summary to tests/soak.results.md
import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { createInterface } from 'node:readline';
import { parseArgs } from 'node:util';

const { values } = parseArgs({
  args: process.argv.slice(2).filter((arg) => arg !== '--'),
  options: {
    seed: { type: 'string', default: '1' },
    folders: { type: 'string', default: '3000' },
    commands: { type: 'string', default: '60' },
    formats: { type: 'string', default: '2000' },
    kills: { type: 'string', default: '100' },
    points: { type: 'string', default: 'all' },
    hostile: { type: 'string', default: 'all' },
    calibration: { type: 'string', default: '200' },
    record: { type: 'boolean', default: false },
  },
});
const firstSeed = Number(values.seed);
/** Longest one case may take before it counts as hanging, ms. */
const PATIENCE_MS = 150_000;

const scratch = mkdtempSync(path.join(tmpdir(), 'wakeline-soak-'));
const started = Date.now();
const seconds = () => ((Date.now() - started) / 1000).toFixed(1);

/** Runs an entry that prints `started` and `ended` lines; ends with what the last case was doing. */
function runEntry(entry, args, onEnded) {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [`.built/${entry}.mjs`, ...args], {
      stdio: ['ignore', 'pipe', 'pipe'],
      env: { ...process.env, TZ: 'UTC' },
    });
    let underWay = null;
    let complaint = '';
    let hung = false;
    const giveUp = () => {
      hung = true;
      child.kill('SIGKILL');
    };
    let timer = setTimeout(giveUp, PATIENCE_MS);
    child.stderr.on('data', (data) => {
      complaint = `${complaint}${data}`.slice(-2000);
    });
    createInterface({ input: child.stdout }).on('line', (line) => {
      clearTimeout(timer);
      timer = setTimeout(giveUp, PATIENCE_MS);
      if (!line.startsWith('{"started"') && !line.startsWith('{"ended"')) return;
      const told = JSON.parse(line);
      if (told.started !== undefined) underWay = told.started;
      else {
        underWay = null;
        onEnded(told.ended);
      }
    });
    child.on('close', (code, signal) => {
      clearTimeout(timer);
      const how = hung
        ? `no answer within ${PATIENCE_MS / 1000} s`
        : `ended with ${signal ?? code}`;
      resolve({ underWay, how: `${how} ${complaint}`.trim(), clean: code === 0 });
    });
  });
}

/** Runs `count` cases; a case that takes the process down is reported and the next ones go on. */
async function campaign(name, entry, argsFrom, count) {
  const tally = { name, cases: 0, ended: {}, bad: [] };
  let seed = firstSeed;
  while (seed < firstSeed + count) {
    const end = await runEntry(entry, argsFrom(seed, firstSeed + count - seed), (outcome) => {
      tally.cases += 1;
      tally.ended[outcome.ended] = (tally.ended[outcome.ended] ?? 0) + 1;
      if (outcome.problems.length > 0) tally.bad.push(outcome);
      seed = outcome.seed + 1;
    });
    if (end.clean) break;
    const lost = end.underWay ?? seed;
    tally.cases += 1;
    tally.bad.push({ seed: lost, said: 'the process did not survive', problems: [end.how] });
    seed = lost + 1;
  }
  const parts = Object.entries(tally.ended).map(([how, number]) => `${number} ${how}`);
  console.log(
    `[${seconds()} s] ${name}: ${tally.cases} cases, ${parts.join(', ')}, ${tally.bad.length} bad`,
  );
  for (const { seed: at, said, problems } of tally.bad.slice(0, 25))
    console.log(`  seed ${at} (${said})\n    ${problems.slice(0, 4).join('\n    ')}`);
  return tally;
}

const plans = [
  [
    'damaged folders, reader',
    'damaged-run',
    (seed, count) => ['reader', `${seed}`, `${count}`, scratch],
    Number(values.folders),
  ],
  [
    'damaged folders, command',
    'damaged-run',
    (seed, count) => ['command', `${seed}`, `${count}`, scratch],
    Number(values.commands),
  ],
  [
    'damaged files of each format',
    'damaged-run',
    (seed, count) => ['formats', `${seed}`, `${count}`, scratch],
    Number(values.formats),
  ],
  [
    'kills at random moments',
    'kills-run',
    (seed, count) => [`${seed}`, `${count}`, scratch],
    Number(values.kills),
  ],
];
/** Tests of which `npm test` runs the quick part, whole. */
function wholeTests(name, file, variable) {
  const report = path.join(scratch, 'tests.json');
  const vitest = ['node_modules/vitest/vitest.mjs', 'run', '--config', 'tests/vitest.config.ts'];
  spawnSync(process.execPath, [...vitest, file, '--reporter=json', `--outputFile=${report}`], {
    stdio: 'ignore',
    env: { ...process.env, TZ: 'UTC', [variable]: 'all' },
  });
  const { testResults } = JSON.parse(readFileSync(report, 'utf8'));
  const tests = testResults.flatMap((each) => each.assertionResults);
  const bad = tests.filter(({ status }) => status !== 'passed');
  for (const { title } of bad) console.log(`bad: ${title}`);
  const ended = { passed: tests.length - bad.length, failed: bad.length };
  console.log(`[${seconds()} s] ${name}: ${tests.length} cases, ${bad.length} bad`);
  return { name, cases: tests.length, ended, bad };
}

const NAMED_POINTS = [
  'death at every named point',
  'tests/crash/named-steps.test.ts',
  'WAKELINE_CRASH_POINTS',
];
const HOSTILE_UPLOADS = [
  'hostile uploads',
  'tests/crash/hostile-uploads.test.ts',
  'WAKELINE_HOSTILE',
];

/** 200 seeds from here on judge the intervals; choices are made on 401 to 480 and 601 to 680. */
const JUDGING_SEED = 201;

const calibrationHead = (count) => `# How often stated 95 % intervals hold the truth

\`*\`: not 92 to 98 %. \`>\`: wider than 1.3 times the 95 % quantile of the error. Of 200 intervals of true 95 %, fewer than 92 % or more than 98 %
hold the truth about once in 20 figures by chance.

All cases by one build on ${count} seeds from ${JUDGING_SEED} on. Choices were made on seeds 401 to 480 and 601 to 680; results on 201 to 400 of earlier builds were
looked at before, and nothing was chosen after them. Flights with other phases than the four flown are in no figure.
`;

/** Flies the calibration study; its table is kept with --record. */
function calibrationStudy(count) {
  const study = spawnSync(
    process.execPath,
    ['.built/calibration.mjs', `${JUDGING_SEED}`, `${count}`],
    { encoding: 'utf8', maxBuffer: 1 << 24 },
  );
  console.log(`[${seconds()} s] calibration of intervals${study.stdout}${study.stderr}`);
  if (values.record) {
    writeFileSync('tests/calibration/results.md', `${calibrationHead(count)}${study.stdout}`);
  }
  const bad = study.status === 0 ? [] : ['edges of phases are out in some case'];
  const flown = [...study.stdout.matchAll(/^(\d+) flights;/gm)]
    .map(([, flights]) => Number(flights))
    .reduce((sum, flights) => sum + flights, 0);
  return { name: 'calibration of intervals', cases: flown, ended: { flown }, bad };
}

const tallies = [];
if (Number(values.calibration) > 0) tallies.push(calibrationStudy(Number(values.calibration)));
if (values.points === 'all') tallies.push(wholeTests(...NAMED_POINTS));
if (values.hostile === 'all') tallies.push(wholeTests(...HOSTILE_UPLOADS));
for (const [name, entry, argsFrom, count] of plans)
  if (count > 0) tallies.push(await campaign(name, entry, argsFrom, count));
rmSync(scratch, { recursive: true, force: true });

if (values.record) {
  const rows = tallies.map(
    ({ name, cases, ended, bad }) =>
      `| ${name} | ${firstSeed} | ${cases} | ${Object.entries(ended)
        .map(([how, number]) => `${number} ${how}`)
        .join(', ')} | ${bad.length} |`,
  );
  const text = [
    '# Last long campaign',
    '',
    `Node ${process.versions.node}, ${seconds()} s.`,
    '',
    '| campaign | first seed | cases | ended | bad |',
    '| --- | --- | --- | --- | --- |',
    ...rows,
    '',
  ].join('\n');
  writeFileSync('tests/soak.results.md', text);
}
const bad = tallies.reduce((sum, tally) => sum + tally.bad.length, 0);
console.log(`[${seconds()} s] ${bad === 0 ? 'all as it should be' : `${bad} cases are bad`}`);
process.exit(bad === 0 ? 0 : 1);
