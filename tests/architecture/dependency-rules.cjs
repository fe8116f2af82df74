// Who may import whom (STYLE: section 2), as absences. Run by tests/check.mjs.
const rows = [
  ['result', 'figure', 'anchor'],
  ['units', 'math'],
  ['time'],
  ['clock', 'frames'],
  ['series'],
  ['session'],
  ['intake', 'motion'],
  ['phases', 'callouts', 'navigation'],
  ['rules', 'compare', 'approach'],
  ['sequence'],
  ['handling'],
  ['reconstruction'],
  ['findings'],
  ['debrief'],
];

/** A row of core may import itself (its own folder) and lower rows only. */
const coreRows = rows.flatMap((names, row) =>
  names.map((name) => {
    const notBelow = rows.flatMap((others, other) =>
      other >= row ? others.filter((each) => each !== name) : [],
    );
    return {
      name: `core-row-${name}`,
      severity: 'error',
      from: { path: `^lib/core/${name}(/|\\.ts$)` },
      to: { path: `^lib/core/(${notBelow.join('|') || 'nothing-stands-above'})(/|\\.ts$)` },
    };
  }),
);

/** Packages that core may use: schemas, YAML text, canonical JSON, the document model. */
const CORE_PACKAGES = [
  'zod',
  'yaml',
  'canonicalize',
  'saxes',
  '@tiptap/(core|pm|starter-kit|extension-table)',
];

module.exports = {
  forbidden: [
    ...coreRows,
    {
      name: 'core-folder-without-a-row',
      comment: 'A new folder of core takes its place in the rows above before it imports anything.',
      severity: 'error',
      from: { path: '^lib/core/', pathNot: `^lib/core/(${rows.flat().join('|')})(/|\\.ts$)` },
      to: {},
    },
    {
      name: 'core-packages',
      severity: 'error',
      from: { path: '^lib/core' },
      to: { path: 'node_modules/', pathNot: `node_modules/(${CORE_PACKAGES.join('|')})/` },
    },
    {
      name: 'commands-not-view',
      severity: 'error',
      from: { path: '^(lib/cli|seed)' },
      to: { path: '^(lib/view|app)' },
    },
    {
      name: 'nothing-from-tests',
      severity: 'error',
      from: { path: '^(lib|app|seed)' },
      to: { path: '^tests' },
    },
    {
      name: 'app-not-commands',
      severity: 'error',
      from: { path: '^app' },
      to: { path: '^(lib/cli|seed)' },
    },
    { name: 'no-cycles', severity: 'error', from: {}, to: { circular: true } },
    {
      name: 'core-is-pure',
      severity: 'error',
      from: { path: '^lib/(core|view)' },
      to: {
        path: '^(lib/(server|cli)|app|seed|prisma)|node_modules/(next|react|react-dom|@prisma|@duckdb|libsql|@libsql)/',
      },
    },
    {
      name: 'core-has-no-node',
      severity: 'error',
      from: { path: '^lib/(core|view)' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'core-not-view',
      severity: 'error',
      from: { path: '^lib/core' },
      to: { path: '^lib/view' },
    },
    {
      name: 'server-not-app',
      severity: 'error',
      from: { path: '^lib/(server|cli)' },
      to: { path: '^app' },
    },
    {
      name: 'database-client-in-server-only',
      severity: 'error',
      from: { pathNot: '^(lib/server|prisma)' },
      to: { path: '^prisma/generated|node_modules/@prisma/' },
    },
    {
      name: 'duckdb-in-samples-only',
      severity: 'error',
      from: { path: '^(lib|app|seed)', pathNot: '^lib/server/samples' },
      to: { path: 'node_modules/@duckdb/' },
    },
    {
      name: 'charts-in-one-place',
      severity: 'error',
      from: { pathNot: '^(app/_components/charts|lib/view/charts|tests)' },
      to: { path: 'node_modules/chart\\.js/' },
    },
    {
      name: 'editor-in-one-place',
      severity: 'error',
      from: { pathNot: '^(app/_components/editor|tests)' },
      to: { path: 'node_modules/@tiptap/react/' },
    },
    {
      name: 'app-takes-types-from-core',
      severity: 'error',
      from: { path: '^app' },
      to: { path: '^lib/core', dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'no-orphans',
      severity: 'error',
      from: { path: '^(lib|app)', orphan: true, pathNot: '(\\.d\\.ts|\\.entry\\.ts|\\.css)$' },
      to: {},
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '^(prisma/generated|\\.next|\\.built|data)' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'require', 'node', 'default', 'types'],
    },
  },
};
