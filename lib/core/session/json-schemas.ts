/** JSON Schemas of the folder's files, made from the schemas that read them. */
import { z } from 'zod';
import { peopleFileSchema } from './people-schema';
import { planFileSchema } from './plan-schema';
import { rulesFileSchema } from './rules-schema';
import { sessionFileSchema } from './session-schema';

const SCHEMAS = {
  'session.schema.json': sessionFileSchema,
  'plan.schema.json': planFileSchema,
  'rules.schema.json': rulesFileSchema,
  'people.schema.json': peopleFileSchema,
};

/**
 * The JSON Schemas (draft 2020-12) that are shipped beside this file, as text.
 *
 * @returns pairs of file name and content, each content ending in a line break
 */
export function sessionJsonSchemas(): readonly (readonly [fileName: string, text: string])[] {
  return Object.entries(SCHEMAS).map(([fileName, schema]) => {
    const json = z.toJSONSchema(schema, { io: 'input', target: 'draft-2020-12' });
    return [fileName, `${JSON.stringify(json, null, 2)}\n`] as const;
  });
}
