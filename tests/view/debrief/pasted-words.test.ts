import { expect, test } from 'vitest';
import { pastedWords } from '@/lib/view/debrief/pasted-words';

/** An item as a word processor writes it (common practice, no source): its sign is text in a comment. */
const item = (sign: string, words: string, how: 'bang' | 'comment') => {
  const [start, end] =
    how === 'bang'
      ? ['<![if !supportLists]>', '<![endif]>']
      : ['<!--[if !supportLists]-->', '<!--[endif]-->'];
  return `<p class=MsoListParagraph style='text-indent:-18.0pt;mso-list:l0 level1 lfo1'>${start}<span style='mso-list:Ignore'>${sign}<span style='font:7.0pt "Times"'>&nbsp;&nbsp; </span></span>${end}${words}<o:p></o:p></p>`;
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
