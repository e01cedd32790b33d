/**
 * Characteristics of one rail, in the order of the report; a tolerance may ask them for a working length.
 * To add such a characteristic, add its question here.
 */
import { characteristicOf, type CharacteristicName } from '../../survey/characteristics/characteristics.js';
import type { Rail } from '../../survey/job/job.js';
import { levelQuestion } from './level-along.js';
import type { RailProfile } from './profiles.js';
import type { Question } from './question.js';
import { squarenessQuestion } from './squareness.js';

/** The stations of a rail that were read in one phase. The horizontal axis of a cross rail is `along`. */
export interface RailProfiles {
  readonly rail: Rail;
  readonly vertical: RailProfile | null;
  readonly horizontal: RailProfile | null;
}

type Ask = (own: RailProfiles, datum: RailProfiles) => Question;

const questions = {
  'level-along': ({ rail, vertical }) => levelQuestion(rail, vertical),
  'level-across': ({ rail, vertical }) => levelQuestion(rail, vertical),
  squareness: ({ rail, horizontal }, datum) => squarenessQuestion(rail.id, horizontal, datum.horizontal),
} as const satisfies Readonly<Partial<Record<CharacteristicName, Ask>>>;

type PlainName = keyof typeof questions;

export const isPlain = (what: CharacteristicName): what is PlainName => Object.hasOwn(questions, what);

export const plainQuestion = (what: PlainName, own: RailProfiles, datum: RailProfiles): Question =>
  questions[what](own, datum);

/** All questions that every job is asked of the rail. */
export const plainQuestions = (own: RailProfiles, datum: RailProfiles): Question[] =>
  (Object.keys(questions) as PlainName[])
    .filter((what) => {
      const { rails, onlyByTolerance } = characteristicOf(what);
      return !onlyByTolerance && (own.rail.direction === 'across') === (rails === 'cross');
    })
    .map((what) => questions[what](own, datum));
