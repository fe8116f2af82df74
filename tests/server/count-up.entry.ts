// Raises one row's number by reading it and writing it back, as often as told, in a process of its own.
import { openDatabase } from '@/lib/server/db';

const [databaseUrl = '', sessionId = '', times = '0'] = process.argv.slice(2);
const client = openDatabase(databaseUrl);
for (let turn = 0; turn < Number(times); turn += 1) {
  await client.$transaction(async (tx) => {
    const where = { id: sessionId };
    const row = await tx.session.findUniqueOrThrow({ where, select: { version: true } });
    await tx.session.update({ where, data: { version: row.version + 1 }, select: { id: true } });
  });
}
await client.$disconnect();
process.exit(0);
