/** The material of a session's debrief, from the database and the sample store. */
import { columnLabel } from '@/lib/core/debrief/column-label';
import {
  type DebriefMaterial,
  type InputVersion,
  type MaterialParts,
  makeMaterial,
} from '@/lib/core/debrief/debrief-material';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { readTemplateFile } from '@/lib/core/debrief/template/read-template-file';
import { localActor } from '../actor';
import { samplesRoot } from '../data-folders';
import { db } from '../db';
import { loadCrewQuestions } from '../queries/load-crew-questions';
import { loadFindings } from '../queries/load-findings';
import { loadModelChanges } from '../queries/load-model-changes';
import { loadDerivedFolder, loadReconstruction } from '../queries/load-reconstruction';
import { FILE_NAMES } from '../read-version';
import { columnsOf } from '../samples/columns-of';
import type { MaterialOutline } from './full-material';

type TemplateRow = Readonly<{ title: string; number: number; sha256: string; text: string }>;

/** The template of a draft as it was saved; nothing for the program's own form. */
export function usedTemplate(row: TemplateRow | null): Pick<MaterialParts, 'template'> {
  if (row === null) return {};
  const { title, number, sha256, text } = row;
  const form = readTemplateFile(text, FILE_NAMES.template, BUILT_IN_BLOCKS).understood;
  return form === null ? {} : { template: { title, number, sha256, form } };
}

/** @returns null where there is no such session, or none reconstructed yet */
export async function loadMaterialOutline(sessionId: string): Promise<MaterialOutline | null> {
  const versionColumns = { title: true, number: true, sha256: true } as const;
  const [session, reconstruction, findings, derivedFolder, modelChanges, crewQuestions] =
    await Promise.all([
      db().session.findFirst({
        where: { id: sessionId, teamId: localActor().teamId },
        select: {
          origin: true,
          planVersion: { select: versionColumns },
          ruleSetVersion: { select: versionColumns },
          debriefTemplateVersion: { select: { ...versionColumns, text: true } },
        },
      }),
      loadReconstruction(sessionId),
      loadFindings(sessionId),
      loadDerivedFolder(sessionId),
      loadModelChanges(sessionId),
      loadCrewQuestions(sessionId),
    ]);
  if (session === null || reconstruction === null) return null;
  const plan: InputVersion | null = session.planVersion;
  const ruleSet: InputVersion | null = session.ruleSetVersion;
  const invented = session.origin === 'demo';
  return {
    parts: {
      ...{ reconstruction, findings, modelChanges, crewQuestions, plan, ruleSet, invented },
      ...usedTemplate(session.debriefTemplateVersion),
    },
    samplesRoot: samplesRoot(),
    derivedFolder: derivedFolder === '' ? null : derivedFolder,
  };
}

/** Names and ends of the derived columns without their samples: enough to draft and to offer blocks. */
export async function outlineMaterial(outline: MaterialOutline): Promise<DebriefMaterial> {
  const manifest =
    outline.derivedFolder === null
      ? null
      : await columnsOf(outline.samplesRoot, outline.derivedFolder);
  const ends = [manifest?.fromS ?? null, manifest?.toS ?? null].filter((end) => end !== null);
  const columns = (manifest?.channels ?? [])
    .filter((channel) => channel.samples > 0)
    .map(({ name, unit }) => ({
      name,
      unit,
      label: columnLabel(name),
      values: new Float64Array(ends.length).fill(Number.NaN),
    }));
  return makeMaterial({ ...outline.parts, derived: { tS: Float64Array.from(ends), columns } });
}
