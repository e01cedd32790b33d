/**
 * English, the catalogue that the others are measured by. A key says where a message is used; a message is a whole sentence
 * or a whole label. Plain English: short main clauses, the words of the trade, one word for one thing (DEVELOPERS.md).
 */
import { readFileSync } from 'node:fs';
import type ownMessages from '../../../templates/words/en.json';
import { characteristics, type CharacteristicName } from '../../survey/characteristics/characteristics.js';
import { reasonMessages } from '../../solution/reasons/messages.js';

/** Names of characteristics are also those of the command line. */
const names = Object.fromEntries(
  characteristics.map(({ name, title }) => [`name.${name}`, title]),
) as Readonly<Record<`name.${CharacteristicName}`, string>>;

const own = JSON.parse(
  readFileSync(new URL('../../../templates/words/en.json', import.meta.url), 'utf8'),
) as typeof ownMessages;

export const en = { ...names, ...reasonMessages, ...own } as const;
