/** A question to the crew whose words try to be markup of pages, of the PDF's typesetting, of YAML. */
import type { CrewQuestion } from '@/lib/core/findings/crew-question';

export const hostileQuestion: CrewQuestion = {
  id: 'q1',
  number: 4,
  version: 2,
  question: 'What did you see?\n<img src=x onerror=alert(1)> "}} - !!js/function x: [',
  anchor: { sessionId: 's', fromS: 100, toS: 112.5, channels: ['closing_rate'] },
  answers: [
    {
      text: '  It jumped.\n\nTwice: </script><script>alert(1)</script> ',
      by: 'PILOT <b>',
      atIso: '2031-03-02T14:05:00.000Z',
    },
    {
      text: '#read("/etc/passwd") $x$ *not bold* _ {{7*7}}\n---\n# no comment',
      by: 'DIRECTOR',
      atIso: '2031-03-02T14:06:00.250Z',
    },
  ],
  author: 'Local reviewer',
  removed: 'standing',
};
