/**
 * English, the catalogue that the others are measured by. A key says where a message is used; a message is a whole sentence
 * or a whole label. Plain English: short main clauses, the words of the trade, one word for one thing (DEVELOPERS.md).
 */
import type ownMessages from '../../../templates/words/en.json';
import { characteristics, type CharacteristicName } from '../../survey/characteristics/characteristics.js';
import { reasonMessages } from '../../solution/reasons/messages.js';
import { readWords } from './read-words.js';

/** Names of characteristics are also those of the command line. */
const names = Object.fromEntries(
  characteristics.map(({ name, title }) => [`name.${name}`, title]),
) as Readonly<Record<`name.${CharacteristicName}`, string>>;

export const en = { ...names, ...reasonMessages, ...readWords<typeof ownMessages>('en') } as const;
