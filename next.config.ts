import type { NextConfig } from 'next';

const config: NextConfig = {
  // A second build folder lets a test or a second developer build beside a running server.
  distDir: process.env.NEXT_DIST_DIR ?? '.next',
  poweredByHeader: false,
  reactStrictMode: true,
  // `npm run check` looks at the types, of the tests too; who only starts the program need not wait for it.
  typescript: { ignoreBuildErrors: true },
  serverExternalPackages: [
    '@duckdb/node-api',
    '@duckdb/node-bindings',
    '@libsql/client',
    'libsql',
    '@prisma/adapter-libsql',
  ],
};

export default config;
