import { DuckDBInstance } from '@duckdb/node-api';
import { expect, test } from 'vitest';
import { sqlText } from '@/lib/server/samples/sql-text';

test('any text comes back from its literal as it was, signs of the language and NUL too', async () => {
  const instance = await DuckDBInstance.create(':memory:');
  const connection = await instance.connect();
  for (const text of ['', "it's", '\0', 'a\0b\0', "'; DROP TABLE x; --", 'ü 🛰', 'a\nb', '\\']) {
    const read = await connection.runAndReadAll(
      `SELECT ${sqlText(text)}, length(${sqlText(text)})`,
    );
    expect(read.getRows()[0]?.[0]).toBe(text);
  }
  connection.closeSync();
  instance.closeSync();
});
