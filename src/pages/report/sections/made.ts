/** The descriptor of each section of section-list.ts: the compiler asks for one that is missing. */
import type { SectionId } from '../section-list.js';
import { checksSection } from './checks.js';
import { figuresSection } from './decisive-figures.js';
import { methodSection } from './method.js';
import { movesSection } from './moves.js';
import { resultsSection } from './results.js';
import type { Section } from './section.js';
import { stationsSection } from './stations.js';
import { surveySection } from './survey.js';

export const sections = {
  results: resultsSection,
  figures: figuresSection,
  moves: movesSection,
  survey: surveySection,
  stations: stationsSection,
  checks: checksSection,
  method: methodSection,
} satisfies Record<SectionId, Section<unknown>>;

export type Parts = { readonly [Id in SectionId]: ReturnType<(typeof sections)[Id]['make']> };
