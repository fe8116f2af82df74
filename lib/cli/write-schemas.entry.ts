/** Writes the JSON Schemas of the session folder beside the readers. Run after a schema changed. */
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { sessionJsonSchemas } from '../core/session/json-schemas';

const folder = path.resolve('lib', 'core', 'session', 'schemas');
for (const [fileName, text] of sessionJsonSchemas()) {
  writeFileSync(path.join(folder, fileName), text);
  console.log(`wrote ${path.join('lib', 'core', 'session', 'schemas', fileName)}`);
}
