/** Questions to the crew with their answers, word for word. */
import type { CrewQuestion } from '../../findings/crew-question';
import { sessionTimeText, utcText } from '../../time/session-time-text';
import { plainText } from '../markup';
import { cell, rowHeader, textRun } from '../resolve-context';
import type { Run, TableCell } from '../resolved';
import { captionedTable } from './captioned-table';

function standing(questions: readonly CrewQuestion[] = []): readonly CrewQuestion[] {
  return questions.filter(({ removed }) => removed === 'standing');
}

/** A text with its own ends of line. */
function lines(text: string): readonly Run[] {
  return plainText(text)
    .split('\n')
    .flatMap((line, index): Run[] =>
      index === 0 ? [textRun(line)] : [{ kind: 'break' }, textRun(line)],
    );
}

const END: Run = { kind: 'break' };

/** Who answered stands above each answer, so that no words of an answer can pass for it. */
function answersCell({ answers }: CrewQuestion): TableCell {
  if (answers.length === 0) return cell('not answered', 'unsure');
  const runs = answers.flatMap(({ text, by, atIso }, index): Run[] => {
    const head: Run = {
      ...textRun(`${by}, written down ${utcText(atIso)}:`),
      marks: ['italic'],
    };
    return [...(index === 0 ? [] : [END]), head, END, ...lines(text)];
  });
  return { ...cell(null), runs };
}

function stretchText({ fromS, toS }: CrewQuestion['anchor']): string {
  const from = sessionTimeText(fromS, 1);
  return fromS === toS ? from : `${from} to ${sessionTimeText(toS, 1)}`;
}

/** One row a question that stands, in the order of their stretches. */
export const crewQuestionTable = captionedTable({
  name: 'crewQuestionTable',
  label: 'Questions to the crew',
  caption: 'Questions to the crew and their answers, word for word',
  section: 'findings',
  count: (_, { crewQuestions }) => standing(crewQuestions).length,
  columns: [
    { label: 'No.', align: 'end' },
    { label: 'Stretch', align: 'start' },
    { label: 'Question', align: 'start' },
    { label: 'Answers', align: 'start' },
  ],
  rows: ({ material }) =>
    standing(material.crewQuestions).map((question) => [
      rowHeader(String(question.number)),
      cell(stretchText(question.anchor)),
      { ...cell(null), runs: lines(question.question) },
      answersCell(question),
    ]),
});
