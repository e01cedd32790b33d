/** What was asked of the rails, each characteristic with its limit and verdict, and who signs for it. */
import { isDraft } from '../document-title.js';
import { otherTable, resultsTable, roundsTable } from './results-table.js';
import { section } from './section.js';
import { electronicSignature, signatures } from './signatures.js';

export const resultsSection = section({
  id: 'results',
  css: 'results',
  make: ({ results, figures, rows, brand, number }) => {
    const { say } = figures;
    const tolerances = resultsTable(results, figures, rows);
    return {
      ...number.tables({
        tolerances,
        // Without a limit, the table for information is the result.
        unjudged: tolerances === null ? otherTable(results, figures) : null,
        rounds: roundsTable(results, figures, rows),
      }),
      statement: isDraft(results)
        ? `${say('statement.items')} ${say('statement.draft')}`
        : say('statement.items'),
      signatures: signatures(results, figures, brand?.document.signatories ?? []),
      electronic: electronicSignature(results, figures),
    };
  },
});
