/** Headings of the text stand one level under the page's own title, as in the published debrief. */

import { Plugin, PluginKey } from '@tiptap/pm/state';
import { Extension } from '@tiptap/react';

const DEEPEST = 6;

/** Only what is shown: what is copied keeps the level of the document. */
export const HeadingLevels = Extension.create({
  name: 'headingLevels',
  addProseMirrorPlugins: () => [
    new Plugin({
      key: new PluginKey('headingLevels'),
      props: {
        nodeViews: {
          heading: ({ attrs }) => {
            const element = document.createElement(`h${Math.min(DEEPEST, attrs.level + 1)}`);
            return { dom: element, contentDOM: element };
          },
        },
      },
    }),
  ],
});
