/** The blocks that come with the program. A new one is defined in a file of its own and added here. */
import { actionTable } from './action-table';
import { approachFigure } from './approach-figure';
import { makeBlockRegistry } from './block';
import { captureTable } from './capture-table';
import { commandedTable } from './commanded-table';
import { axisTable, comparisonTable } from './comparison-tables';
import { contactTable } from './contact-table';
import { correctionTable } from './correction-table';
import { crewQuestionTable } from './crew-question-table';
import { deviationTable } from './deviation-table';
import { exceedanceTable } from './exceedance-table';
import { faultTable } from './fault-table';
import { findingCard } from './finding-card';
import { logExcerpt } from './log-excerpt';
import { modelChangeTable } from './model-change-table';
import { phaseTable } from './phase-table';
import { pollBoard } from './poll-board';
import { ratingTable } from './rating-table';
import { ruleTable } from './rule-table';
import { sequenceTable } from './sequence-table';
import { sourceTable } from './source-table';
import { stepTable } from './step-table';
import { traceFigure } from './trace-figure';

/** The blocks that come with the program; a document knows these and those added to a registry. */
export const BUILT_IN_BLOCKS = makeBlockRegistry([
  traceFigure,
  approachFigure,
  phaseTable,
  sequenceTable,
  stepTable,
  commandedTable,
  deviationTable,
  ruleTable,
  exceedanceTable,
  pollBoard,
  contactTable,
  captureTable,
  findingCard,
  actionTable,
  crewQuestionTable,
  logExcerpt,
  axisTable,
  comparisonTable,
  ratingTable,
  modelChangeTable,
  sourceTable,
  faultTable,
  correctionTable,
]);
