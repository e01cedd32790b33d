/**
 * `npm run study [surveys a cell] [parts]`: how often intervals cover, over rails of usual shapes (coverage-study.ts).
 * `npm run study -- attack [parts]`: the same over the worst rails that a search finds (attack.ts).
 * `npm run study -- causes [surveys a cell] [part]`: what is found of planted mistakes (causes.ts).
 */
const which = process.argv[2];
const isNamed = which === 'attack' || which === 'causes';
if (isNamed) process.argv.splice(2, 1);
await import(which === 'attack' ? './attack.js' : which === 'causes' ? './causes.js' : './coverage-study.js');
