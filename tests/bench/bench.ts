/** `npm run bench [-- solve | judge | corrections | audit | language [pairs] | batch [jobs] | versions [jobs] [worktrees] | scale [largest] | archive [jobs]]`: every figure of cost, or those of one part. Builds nothing: see package.json. */
const parts = {
  solve: './solve-bench.js',
  judge: './judge-bench.js',
  corrections: './corrections-bench.js',
  audit: './audit-bench.js',
  language: './language-bench.js',
  batch: './batch-bench.js',
  versions: './versions-bench.js',
  scale: './scale-bench.js',
  archive: './archive-bench.js',
} as const;

const part = process.argv[2];
if (part !== undefined && !(part in parts)) {
  console.error(`bench: '${part}' is no part; there are ${Object.keys(parts).join(' and ')}`);
  process.exit(2);
}
// What follows the part's name is the part's.
if (part !== undefined) process.argv.splice(2, 1);
for (const [name, module] of Object.entries(parts)) {
  if (part !== undefined && part !== name) continue;
  console.log(`== ${name}`);
  await import(module);
}
