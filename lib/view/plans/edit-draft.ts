/** Edits of a draft's text, for the screen. */
import { editYaml, type YamlEdit } from '../../core/session/edit-yaml';

export type DraftEdit = YamlEdit;

/** @returns the new text; null where the text cannot be edited by form */
export function editedText(text: string, edit: DraftEdit): string | null {
  return editYaml(text, edit);
}
