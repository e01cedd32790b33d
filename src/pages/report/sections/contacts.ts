/** Addresses of who issued the report and for whom. */
import { fact } from '../table.js';
import { section } from './section.js';

export const contactsSection = section({
  id: 'contacts',
  css: 'annex',
  make: ({ results: { subject }, figures: { say } }) => ({
    facts: [
      fact(say('fact.issuer-address'), subject.contacts?.issuer ?? null, say('not-recorded')),
      fact(say('fact.customer-address'), subject.contacts?.customer ?? null, say('not-recorded')),
    ],
  }),
});
