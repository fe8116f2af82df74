import { expect, test } from 'vitest';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { blockHtml } from '@/lib/core/debrief/html/html-blocks';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import type { TableBlock } from '@/lib/core/debrief/resolved';
import { crewQuestionOfFolder, crewQuestionWords } from '@/lib/core/findings/crew-question';
import { readPeopleFile } from '@/lib/core/session/read-people-file';
import { writePeopleFile } from '@/lib/core/session/write-people-file';
import { hostileQuestion } from '../../support/hostile-question';
import { countingIds, sampleMaterial } from '../../support/sample-material';

const removed = { ...hostileQuestion, id: 'q2', number: 5, removed: 'removed' } as const;
const open = { ...hostileQuestion, id: 'q3', number: 6, answers: [] };
const material = { ...sampleMaterial, crewQuestions: [hostileQuestion, removed, open] };

function tableOf(of: typeof sampleMaterial) {
  const doc = draftDebrief(of, BUILT_IN_BLOCKS, countingIds());
  const document = resolveDocument(doc, of, BUILT_IN_BLOCKS);
  const table = document.blocks.find(
    (block): block is TableBlock =>
      block.kind === 'table' && block.caption.startsWith('Questions to the crew'),
  );
  return { document, table };
}

test('a draft shows the questions that stand with each answer word for word and by whom', () => {
  const { table } = tableOf(material);
  const words = (table?.rows ?? []).map((row) =>
    row.map(({ runs }) => runs.map((run) => (run.kind === 'break' ? '\n' : run.text)).join('')),
  );
  expect(words.map(([number]) => number)).toEqual(['4', '6']);
  const [first, second] = words;
  expect(first?.[1]).toBe('00:01:40.0 to 00:01:52.5');
  expect(first?.[2]).toBe(hostileQuestion.question);
  const [one, two] = hostileQuestion.answers;
  expect(first?.[3]).toBe(
    `PILOT <b>, written down 2031-03-02 14:05:00 UTC:\n${one?.text}\nDIRECTOR, written down 2031-03-02 14:06:00.250 UTC:\n${two?.text}`,
  );
  expect(second?.[3]).toBe('not answered');
  expect(tableOf(sampleMaterial).table).toBeUndefined();
});

test('in HTML their markup is text', () => {
  const { document, table } = tableOf(material);
  const html = table === undefined ? '' : blockHtml(table, document);
  expect(html).toContain('&lt;img src=x onerror=alert(1)&gt;');
  expect(html).toContain('&lt;/script&gt;&lt;script&gt;alert(1)&lt;/script&gt;');
  expect(html).not.toMatch(/<script|<img|<b>/);
});

test('people.yaml carries them word for word, and nothing of them is computed with', () => {
  const asked = [hostileQuestion, open].map(crewQuestionWords);
  const people = { clockCorrections: [], stretchCorrections: [], crewQuestions: asked };
  const { value, issues } = readPeopleFile(writePeopleFile(people), 'people.yaml');
  expect(issues).toEqual([]);
  expect(value?.crewQuestions).toEqual(asked);
  const [back] = (value?.crewQuestions ?? []).map(crewQuestionOfFolder);
  expect(back).toMatchObject({ number: 4, question: hostileQuestion.question });
});

test('numbers that are left out or given twice are the places; a wrong key is named by its line', () => {
  const text = (more: string) => `crew_questions:
  - { from_s: 9, to_s: 3, question: One? }
  - { from_s: 1, to_s: 2, question: Two?${more} }
`;
  const numbersOf = (file: string) =>
    readPeopleFile(file, 'people.yaml').value?.crewQuestions?.map(({ number }) => number);
  expect(numbersOf(text(''))).toEqual([1, 2]);
  expect(numbersOf(text(', number: 1'))).toEqual([1, 2]);
  const wrong = readPeopleFile(text(', reply: no'), 'people.yaml');
  expect(wrong.value).toBeNull();
  expect(wrong.issues[0]).toMatchObject({ line: 3, file: 'people.yaml' });
});
