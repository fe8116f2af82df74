/**
 * A plain module, because one in TypeScript is translated anew at every start.
 *
 * @type {import('next').NextConfig}
 */
const config = {
  // A second build folder lets a test or a second developer build beside a running server.
  distDir: process.env.NEXT_DIST_DIR ?? '.next',
  poweredByHeader: false,
  reactStrictMode: true,
  // `npm run check` looks at the types, of the tests too; who only starts the program need not wait for it.
  typescript: { ignoreBuildErrors: true },
  experimental: {
    // The first page need not wait until all the others are loaded.
    preloadEntriesOnStart: false,
    // What the server runs keeps its names, so a trace in its log is read without a map: the short form and
    // its map took a third of the build.
    serverMinification: false,
    turbopackSourceMaps: false,
    // 170 MB, as long in the writing as it saves the next time.
    turbopackFileSystemCacheForBuild: false,
  },
  serverExternalPackages: [
    '@duckdb/node-api',
    '@duckdb/node-bindings',
    '@libsql/client',
    'libsql',
    '@prisma/adapter-libsql',
  ],
};

export default config;
