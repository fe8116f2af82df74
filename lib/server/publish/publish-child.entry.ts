/** The publishing process: resolves and renders one debrief, answers, and is then ended. */
import { answerParent } from '../jobs/answer-parent';
import { renderDebrief } from './render-debrief';

answerParent(renderDebrief);
