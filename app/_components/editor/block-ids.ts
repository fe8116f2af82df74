/** Keeps the ids of the blocks at the top: one each, never twice, made where one is missing. */

import { Plugin, PluginKey } from '@tiptap/pm/state';
import { Extension } from '@tiptap/react';

const ALPHABET = '0123456789abcdefghjkmnpqrstvwxyz';

/** Sixteen letters and digits, random enough never to meet. */
export function newBlockId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => ALPHABET.charAt(byte & 31)).join('');
}

export const KeepBlockIds = Extension.create({
  name: 'keepBlockIds',
  addProseMirrorPlugins: () => [
    new Plugin({
      key: new PluginKey('keepBlockIds'),
      appendTransaction: (transactions, _before, state) => {
        if (!transactions.some((transaction) => transaction.docChanged)) return null;
        const { tr } = state;
        const seen = new Set<unknown>();
        state.doc.forEach((node, offset) => {
          if (!('id' in node.attrs)) return;
          const { id } = node.attrs;
          if (typeof id === 'string' && id !== '' && !seen.has(id)) seen.add(id);
          else tr.setNodeAttribute(offset, 'id', newBlockId());
        });
        return tr.docChanged ? tr.setMeta('addToHistory', false) : null;
      },
    }),
  ],
});
