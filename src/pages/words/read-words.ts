/** A file of templates/words, such as 'en' or 'problems/de'. */
import { readFileSync } from 'node:fs';

export const readWords = <T>(path: string): T =>
  JSON.parse(readFileSync(new URL(`../../../templates/words/${path}.json`, import.meta.url), 'utf8')) as T;
