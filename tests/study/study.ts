/**
 * `npm run study [surveys a cell] [parts]`: how often intervals cover, over rails of usual shapes (coverage-study.ts).
 * `npm run study -- attack [parts]`: the same over the worst rails that a search finds (attack.ts).
 * `npm run study -- causes [surveys a cell] [part]`: what is found of planted mistakes (causes.ts).
 * `npm run study -- plan [surveys]`: the chances that a plan tells (plan-chances.ts).
 * `npm run study -- words`: whether the words of every pinned job fit, in every language, on both papers (words.ts).
 */
const which = process.argv[2];
const parts: Readonly<Record<string, string>> = {
  attack: './attack.js',
  causes: './causes.js',
  plan: './plan-chances.js',
  words: './words.js',
};
const part = which === undefined ? undefined : parts[which];
if (part !== undefined) process.argv.splice(2, 1);
await import(part ?? './coverage-study.js');
