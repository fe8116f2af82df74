// node prisma/migration-new.mjs NAME writes the SQL that takes the last recorded schema to the present
// one, with the WebAssembly build of Prisma's schema engine: no database, no download. `--check` only
// says whether schema.prisma has changes without a migration.
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { bindMigrationAwareSqlAdapterFactory, ColumnTypeEnum } from '@prisma/driver-adapter-utils';

const require = createRequire(import.meta.url);
const SCHEMA = path.join(import.meta.dirname, 'schema.prisma');
const LAST = path.join(import.meta.dirname, 'migrations', 'last.prisma');

async function loadEngine() {
  const folder = path.dirname(require.resolve('@prisma/schema-engine-wasm'));
  const engine = await import('@prisma/schema-engine-wasm/schema_engine_bg');
  const wasm = readFileSync(path.join(folder, 'schema_engine_bg.wasm'));
  const { instance } = await WebAssembly.instantiate(wasm, { './schema_engine_bg.js': engine });
  engine.__wbg_set_wasm(instance.exports);
  instance.exports.__wbindgen_start();
  return engine;
}

/** Comparing two schema files asks the database for nothing but its version. */
function silentDatabase() {
  return {
    provider: 'sqlite',
    adapterName: 'none',
    getConnectionInfo: () => ({ supportsRelationJoins: false, schemaName: 'main' }),
    queryRaw: async () => ({
      columnNames: ['version'],
      columnTypes: [ColumnTypeEnum.Text],
      rows: [['3.45.0']],
    }),
    executeRaw: async () => 0,
    executeScript: async () => {},
    dispose: async () => {},
    startTransaction: async () => {
      throw new Error('no transaction is needed to compare schemas');
    },
  };
}

const name = process.argv[2];
if (name === undefined) {
  console.error('usage: node prisma/migration-new.mjs NAME | --check');
  process.exit(2);
}
const engineModule = await loadEngine();
const database = silentDatabase();
const engine = await engineModule.SchemaEngine.new(
  { datamodels: undefined },
  () => {},
  bindMigrationAwareSqlAdapterFactory({
    provider: 'sqlite',
    adapterName: 'none',
    connect: async () => database,
    connectToShadowDb: async () => database,
  }),
);
const schema = readFileSync(SCHEMA, 'utf8');
const asFile = (content) => ({
  tag: 'schemaDatamodel',
  files: [{ path: 'schema.prisma', content }],
});
const { stdout, exitCode } = await engine.diff({
  from: existsSync(LAST) ? asFile(readFileSync(LAST, 'utf8')) : { tag: 'empty' },
  to: asFile(schema),
  script: true,
  exitCode: true,
  shadowDatabaseUrl: null,
  filters: { externalTables: [], externalEnums: [] },
});
const changed = exitCode === 2;
if (name === '--check') {
  console.log(
    changed ? 'schema.prisma has changes without a migration' : 'migrations are up to date',
  );
  process.exit(changed ? 1 : 0);
}
if (changed) {
  const stamp = new Date().toISOString().replace(/\D/g, '').slice(0, 14);
  const folder = path.join(import.meta.dirname, 'migrations', 'sqlite', `${stamp}_${name}`);
  mkdirSync(folder, { recursive: true });
  writeFileSync(path.join(folder, 'migration.sql'), stdout);
  writeFileSync(LAST, schema);
  console.log(path.relative(process.cwd(), folder));
}
process.exit(0);
