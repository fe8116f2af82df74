'use server';

import { revalidatePath } from 'next/cache';
import type { CrewQuestion } from '@/lib/core/findings/crew-question';
import type { Annotation, CapturedFigure, Finding } from '@/lib/core/findings/finding';
import { askCrew } from '@/lib/server/commands/ask-crew';
import { createAnnotation } from '@/lib/server/commands/create-annotation';
import { createFinding } from '@/lib/server/commands/create-finding';
import { editAnnotation } from '@/lib/server/commands/edit-annotation';
import { editFinding } from '@/lib/server/commands/edit-finding';
import { removeAnnotation } from '@/lib/server/commands/remove-annotation';
import { postedField, postedId, postedNumber } from '@/lib/server/posted';
import { loadFindings } from '@/lib/server/queries/load-findings';
import { loadStretch } from '@/lib/server/queries/load-stretch';
import { type CommandResult, runCommand } from '@/lib/server/run-command';

type Stretch = Readonly<{ fromS: number; toS: number; channels: readonly string[] }>;

export type FindingDraft = Stretch &
  Readonly<{
    title: string;
    seen: string;
    change: string;
    owner: string;
    due: string;
    kind: string;
    severity: string;
    state: string;
  }>;

export type AnnotationDraft = Stretch & Readonly<{ text: string }>;

export type Existing = Readonly<{ id: string; version: number }>;

/**
 * A finding on a stretch. Its figures are computed here, from the store, and captured with it; they
 * stay as captured while only its words change.
 */
export async function saveFinding(
  sessionId: string,
  draft: FindingDraft,
  existing: Existing | null,
): Promise<CommandResult<Finding>> {
  const figures = await figuresOf(postedId(sessionId), draft, existing);
  const input = { ...draft, figures };
  const result =
    existing === null
      ? await runCommand(createFinding, { ...input, sessionId })
      : await runCommand(editFinding, { ...input, ...existing });
  if (result.ok) revalidatePath(`/sessions/${sessionId}`, 'layout');
  return result;
}

async function figuresOf(
  sessionId: string,
  draft: FindingDraft,
  existing: Existing | null,
): Promise<readonly CapturedFigure[]> {
  const [fromS, toS] = ['fromS', 'toS'].map((name) => postedNumber(postedField(draft, name)));
  if (fromS === undefined || toS === undefined || !Number.isFinite(toS - fromS)) return [];
  const id = postedField(existing, 'id');
  const before = (await loadFindings(sessionId)).find((finding) => finding.id === id);
  if (before?.anchor.fromS === fromS && before.anchor.toS === toS) return before.figures;
  return (await loadStretch(sessionId, { fromS, toS }))?.figures ?? [];
}

export async function saveAnnotation(
  sessionId: string,
  draft: AnnotationDraft,
  existing: Existing | null,
): Promise<CommandResult<Annotation>> {
  const result =
    existing === null
      ? await runCommand(createAnnotation, { ...draft, sessionId })
      : await runCommand(editAnnotation, { ...draft, ...existing });
  if (result.ok) revalidatePath(`/sessions/${sessionId}`, 'layout');
  return result;
}

/** Puts a question to the crew on their sheet. */
export async function askQuestion(
  sessionId: string,
  draft: Stretch & Readonly<{ question: string }>,
): Promise<CommandResult<CrewQuestion>> {
  const result = await runCommand(askCrew, { ...draft, sessionId });
  if (result.ok) revalidatePath(`/sessions/${sessionId}/questions`);
  return result;
}

export async function dropAnnotation(
  sessionId: string,
  existing: Existing,
): Promise<CommandResult<Readonly<{ id: string }>>> {
  const result = await runCommand(removeAnnotation, existing);
  if (result.ok) revalidatePath(`/sessions/${sessionId}`, 'layout');
  return result;
}
