import { defineConfig } from 'prisma/config';

export default defineConfig({
  schema: 'prisma/schema.prisma',
  migrations: { path: 'prisma/migrations/sqlite' },
  datasource: { url: process.env.DATABASE_URL ?? 'file:./data/wakeline.db' },
});
