// The one way in: `npm start`, `npm test`, `npm run debrief` and the others. Only Node's own modules
// are imported here, because this runs before node_modules exists. Each preparation step is skipped
// when the files it depends on have not changed and its product is still there.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';

const ROOT = path.resolve(import.meta.dirname, '..', '..');
process.chdir(ROOT);
const STAMPS = path.join('node_modules', '.wakeline');
const NEXT_DIR = process.env.NEXT_DIST_DIR ?? '.next';
const started = Date.now();
const [command = 'start', ...args] = process.argv.slice(2);
const quiet = command === 'debrief' || command === 'verify';

const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);
if (!((major === 20 && minor >= 19) || (major === 22 && minor >= 13) || major >= 24)) {
  console.error(
    `Node ${process.versions.node} does not fit: 20.19 or newer, 22.13 or newer, or 24 is needed.`,
  );
  process.exit(1);
}

function say(text) {
  if (!quiet) console.log(`[${((Date.now() - started) / 1000).toFixed(1).padStart(5)} s] ${text}`);
}

const ENV = {
  ...process.env,
  CHECKPOINT_DISABLE: '1',
  NEXT_TELEMETRY_DISABLED: '1',
  npm_config_loglevel: 'error',
};

/** Runs a program to its end; its own output is shown only when asked for or when it fails. */
function run(program, programArgs, { show = false, env = {} } = {}) {
  const result = spawnSync(program, programArgs, {
    env: { ...ENV, ...env },
    stdio: show ? 'inherit' : ['ignore', 'pipe', 'pipe'],
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  if (result.status !== 0) {
    if (!show) process.stderr.write(`${result.stdout ?? ''}${result.stderr ?? ''}`);
    process.exit(result.status ?? 1);
  }
}

const node = (programArgs, options) => run(process.execPath, programArgs, options);

function hashOf(roots, skip = () => false) {
  const hash = createHash('sha256').update(`${major} ${process.platform} ${process.arch}`);
  const walk = (file) => {
    let names = null;
    try {
      names = readdirSync(file).sort();
    } catch (error) {
      if (error.code === 'ENOENT') return;
      if (error.code !== 'ENOTDIR') throw error;
    }
    if (names === null) hash.update(file).update('\0').update(readFileSync(file));
    else for (const name of names) if (!skip(name)) walk(path.join(file, name));
  };
  for (const root of roots) walk(root);
  return hash.digest('hex');
}

function step(name, text, hash, products, work) {
  const stamp = path.join(STAMPS, name);
  const fresh =
    existsSync(stamp) &&
    readFileSync(stamp, 'utf8') === hash &&
    products.every((file) => existsSync(file));
  if (fresh) return;
  say(text);
  work();
  mkdirSync(STAMPS, { recursive: true });
  writeFileSync(stamp, hash);
}

const generatedCode = (name) => name === 'generated' || name === 'node_modules';

function prepareInstall() {
  step(
    'install',
    'Installing the packages (once; about a minute)',
    hashOf(['package-lock.json']),
    ['node_modules/next/package.json'],
    () => {
      const npmArgs = ['ci', '--include=dev', '--no-audit', '--no-fund', '--loglevel=error'];
      const npm = process.env.npm_execpath;
      if (npm === undefined) run('npm', npmArgs);
      else node([npm, ...npmArgs]);
    },
  );
}

function prepareEntries() {
  prepareInstall();
  step(
    'generate',
    'Generating the database client',
    hashOf(['prisma/schema.prisma', 'prisma/generate.mjs', 'package-lock.json']),
    ['prisma/generated/client/client.ts'],
    () => node(['prisma/generate.mjs']),
  );
  step(
    'entries',
    'Bundling the command line and the workers',
    hashOf(['lib', 'seed', 'tests', 'package-lock.json', 'tsconfig.json'], generatedCode),
    ['.built/engine.json'],
    () => node(['lib/cli/build-entries.mjs']),
  );
}

function prepareBuild() {
  prepareEntries();
  const sources = [
    'app',
    'lib',
    'prisma/schema.prisma',
    'next.config.mjs',
    'proxy.ts',
    'instrumentation.ts',
    'tsconfig.json',
    'package-lock.json',
  ];
  step(
    `build-${NEXT_DIR}`,
    'Building the web application',
    hashOf(sources, generatedCode),
    [`${NEXT_DIR}/BUILD_ID`],
    () => node(['node_modules/next/dist/bin/next', 'build']),
  );
}

/** Runs a bundled entry in the foreground and ends with its exit code. */
function runEntry(name, entryArgs) {
  const result = spawnSync(
    process.execPath,
    ['--enable-source-maps', `.built/${name}.mjs`, ...entryArgs],
    { stdio: 'inherit', env: ENV },
  );
  process.exit(result.status ?? 1);
}

switch (command) {
  case 'start':
    prepareBuild();
    // In this very process: another one would take a tenth of a second to begin.
    Object.assign(process.env, ENV, { NODE_ENV: 'production' });
    process.setSourceMapsEnabled(true);
    await import(pathToFileURL(path.resolve('.built', 'serve.mjs')).href);
    break;
  case 'prepare':
    prepareBuild();
    break;
  case 'check':
    prepareEntries();
    node(['tests/check.mjs'], { show: true });
    break;
  case 'test':
    // The build is left to the tests, which do others meanwhile.
    prepareEntries();
    node(['tests/run-tests.mjs', ...args], { show: true });
    break;
  case 'soak':
  case 'bench':
    prepareBuild();
    node([`tests/${command}.mjs`, ...args], { show: true });
    break;
  case 'debrief':
    prepareEntries();
    runEntry('debrief', args);
    break;
  case 'verify':
    prepareEntries();
    runEntry('verify', args);
    break;
  default:
    console.error(
      `Unknown command "${command}": start, test, check, soak, bench, debrief or verify.`,
    );
    process.exit(2);
}
