import { Fragment, Slice } from '@tiptap/pm/model';
import { expect, test } from 'vitest';
import { documentSchema } from '@/lib/core/debrief/document-schema';
import { loadDocument } from '@/lib/core/debrief/load-document';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { withinBounds } from '@/lib/view/debrief/pasted-nodes';
import { leftOutText, pastedWords, picturesIn } from '@/lib/view/debrief/pasted-words';

/** An item as a word processor writes it (common practice, no source): its sign is text in a comment. */
const item = (sign: string, words: string, how: 'bang' | 'comment', level = 1) => {
  const [start, end] =
    how === 'bang'
      ? ['<![if !supportLists]>', '<![endif]>']
      : ['<!--[if !supportLists]-->', '<!--[endif]-->'];
  return `<p class=MsoListParagraph style='text-indent:-18.0pt;mso-list:l0 level${level} lfo1'>${start}<span style='mso-list:Ignore'>${sign}<span style='font:7.0pt "Times"'>&nbsp;&nbsp; </span></span>${end}${words}<o:p></o:p></p>`;
};

test('paragraphs that are items of a list become a list, without their signs', () => {
  const bullets = `${item('·', 'One', 'bang')}\n${item('·', 'Two <b>bold</b>', 'comment')}`;
  expect(pastedWords(bullets)).toBe('<ul><li><p>One</p></li><li><p>Two <b>bold</b></p></li></ul>');
  const counted = `${item('1.', 'One', 'comment')}${item('b)', 'Two', 'bang')}<p>end</p>`;
  expect(pastedWords(counted)).toBe('<ol><li><p>One</p></li><li><p>Two</p></li></ol><p>end</p>');
  const bare = `<p style="mso-list:l1 level1 lfo2"><span style="mso-list:Ignore">·<span>&nbsp;</span></span>Bare</p>`;
  expect(pastedWords(bare)).toBe('<ul><li><p>Bare</p></li></ul>');
});

test('what holds no words is taken out, other words stay as they are', () => {
  expect(pastedWords('<style>p{color:red}</style><!-- x --><p>a<o:p></o:p></p><xml>b</xml>')).toBe(
    '<p>a</p>',
  );
  const usual = '<h2>Head</h2><ul><li>a</li></ul><p style="mso-list:none">1. no list</p>';
  expect(pastedWords(usual)).toBe(usual);
  const started = performance.now();
  pastedWords(`<p style="mso-list:l0">${'<span style="mso-list:Ignore">'.repeat(20_000)}`);
  expect(performance.now() - started).toBeLessThan(2000);
});

test('levels of a list are kept: of paragraphs, and none is made up where one is passed over', () => {
  const rows = [
    item('1.', 'One', 'bang', 1),
    item('a)', 'One a', 'comment', 2),
    item('·', 'Deep', 'comment', 4),
    item('b)', 'One b', 'bang', 2),
    item('2.', 'Two', 'bang', 1),
    item('·', 'Other', 'bang', 1),
  ].join('\n');
  expect(pastedWords(rows)).toBe(
    '<ol><li><p>One</p><ol><li><p>One a</p><ul><li><p>Deep</p></li></ul></li><li><p>One b</p></li></ol></li><li><p>Two</p></li></ol><ul><li><p>Other</p></li></ul>',
  );
  expect(pastedWords(`${item('o', 'In', 'bang', 3)}${item('·', 'Out', 'bang', 2)}`)).toBe(
    '<ul><li><p>In</p></li><li><p>Out</p></li></ul>',
  );
});

// Source: W3C, WAI-ARIA 1.2, 6.6 `aria-level`: the level of an element within a structure.
test('levels of a list are kept where items state them, in one flat list or each in a list of its own', () => {
  const leveled = '<ul><li><p>a</p><ul><li>b</li></ul></li><li>c</li></ul>';
  const flat =
    '<ul><li aria-level="1"><p>a</p></li><li aria-level="2">b</li><li aria-level="1">c</li></ul>';
  expect(pastedWords(flat)).toBe(leveled);
  const boxed = [
    [1, '<p>a</p>'],
    [2, 'b'],
    [1, 'c'],
  ]
    .map(
      ([level, words]) =>
        `<div class="ListContainerWrapper x"><ul role="list"><li aria-level="${level}">${words}</li></ul></div>`,
    )
    .join('');
  expect(pastedWords(boxed)).toBe(leveled);
  // Lists that lie inside one another say all of it: the editor's own reader takes them.
  const inside = '<ul><li aria-level="1">a</li><ul><li aria-level="2">b</li></ul></ul>';
  expect(pastedWords(inside)).toBe(inside);
});

test('deleted words of tracked changes, comments and numbers of headings are no words of the text', () => {
  const tracked =
    '<p>Held <ins cite="mailto:a" datetime="2016-03-08T09:12">at 30 m</ins><span class=msoDel><del cite="mailto:a" datetime="2016-03-08T09:12"><span>at 20 m</span></del></span>, <del>struck</del>.</p>';
  expect(pastedWords(tracked).replace(/<\/?(ins|span)[^>]*>/g, '')).toBe(
    '<p>Held at 30 m, <del>struck</del>.</p>',
  );
  const noted = `<p>Seen<span class=MsoCommentReference><![if !supportAnnotations]><a class=msocomanchor href="#_msocom_1">[AB1]</a><![endif]></span>.</p><div style='mso-element:comment-list'><div style='mso-element:comment'><div class=msocomtxt><p>Is it so?</p></div></div></div><p>After</p>`;
  expect(pastedWords(noted).replace(/<\/?span[^>]*>/g, '')).toBe('<p>Seen.</p><p>After</p>');
  const heading = `<h5 style='mso-list:l1 level1'><![if !supportLists]><span style='mso-list:Ignore'>1.1<span>&nbsp; </span></span><![endif]>Rates</h5><p class=MsoNormal><o:p>&nbsp;</o:p></p>`;
  expect(pastedWords(heading)).toBe('<h3>Rates</h3>');
  expect(pastedWords('<p>\u201cHold\u201d\u00a0&nbsp;5&nbsp;m</p>')).toBe(
    '<p>\u201cHold\u201d\u00a0&nbsp;5&nbsp;m</p>',
  );
});

test('emphasis that stands in styles alone is kept, and a wrapper that means none is none', () => {
  const styled =
    '<b style="font-weight:normal" id="x"><p><span style="font-weight:700;font-style:italic">a</span><span style="font-weight:400">b</span></p></b>';
  expect(pastedWords(styled)).toBe(
    '<span><p><b><i>a</i></b><span style="font-weight:400">b</span></p></b>',
  );
});

test('pictures are counted and said to be left out', () => {
  expect(picturesIn('<p><img src="a"><!--<img>--><v:imagedata src="b"/></p><imgx>')).toBe(2);
  expect(leftOutText(0)).toBeNull();
  expect(leftOutText(2)).toMatch(/^2 pictures were left out/);
});

test('what is pasted out of bounds keeps its words and can be saved', () => {
  const schema = documentSchema(BUILT_IN_BLOCKS);
  const text = (words: string, href?: string) => ({
    ...{ type: 'text', text: words },
    ...(href === undefined ? {} : { marks: [{ type: 'link', attrs: { href } }] }),
  });
  const line = (...content: unknown[]) => ({ type: 'paragraph', content });
  const cell = (attrs: object, words: string) => ({
    type: 'tableCell',
    attrs,
    content: [line(text(words))],
  });
  const row = [cell({ colspan: 400, rowspan: 0 }, 'wide'), cell({ colwidth: ['x'] }, 'usual')];
  const nodes = [
    line(
      text('local', 'file:///c:/x'),
      text('anchor', '#_Toc1'),
      text('web', 'https://example.org'),
    ),
    { type: 'table', content: [{ type: 'tableRow', content: row }] },
    { type: 'codeBlock', attrs: { language: 'a_b!' }, content: [text('code')] },
    line(text('after')),
  ].map((json) => schema.nodeFromJSON(json));
  const { content } = withinBounds(new Slice(Fragment.fromArray(nodes), 0, 0));
  const blocks = content.toJSON().map((block: { attrs?: object }, at: number) => ({
    ...block,
    attrs: { ...block.attrs, id: `block-${at}` },
  }));
  const { value, issues } = loadDocument(
    { schema: 1, body: { type: 'doc', content: blocks } },
    schema,
  );
  expect(issues).toEqual([]);
  expect(content.textBetween(0, content.size, ' ')).toBe('localanchorweb wide usual code after');
  expect(JSON.stringify(value).match(/"href":"[^"]*"/g)).toEqual(['"href":"https://example.org"']);
});
