/**
 * `npm run pictures`: draws the pages of all kept reports anew. A picture is only written where a page looks otherwise, so that
 * `git status` lists what must be looked at before it is committed.
 */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { PNG } from 'pngjs';
import { keptReports } from './jobs.js';
import { compared, digestOf, digests, digestsPath, MOST_DOTS, pathOf, sheetOf, written } from './sheet.js';

const renewed: Record<string, string> = {};
const before = digests();
for (const { id, make } of keptReports) {
  const pdf = await make();
  renewed[id] = digestOf(pdf);
  if (renewed[id] === before[id] && existsSync(pathOf(id))) continue;
  const sheet = await sheetOf(pdf);
  const old = existsSync(pathOf(id)) ? compared(PNG.sync.read(readFileSync(pathOf(id))), sheet) : null;
  if (old !== null && old.dots <= MOST_DOTS) continue;
  mkdirSync(dirname(pathOf(id)), { recursive: true });
  writeFileSync(pathOf(id), written(sheet));
  console.log(`${id}: ${old === null ? 'drawn' : `looks otherwise (${old.dots} dots in one place)`}`);
}
writeFileSync(digestsPath, `${JSON.stringify(renewed, null, 2)}\n`);
