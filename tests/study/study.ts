/**
 * `npm run study [surveys a cell] [parts]`: how often intervals cover, over rails of usual shapes (coverage-study.ts).
 * `npm run study -- attack [parts]`: the same over the worst rails that a search finds (attack.ts).
 */
const isAttack = process.argv[2] === 'attack';
if (isAttack) process.argv.splice(2, 1);
await import(isAttack ? './attack.js' : './coverage-study.js');
