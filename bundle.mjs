/**
 * The last step of `npm run build`: kinds of pictures are compiled, and what tsc wrote to dist, and the packages that it uses, become a few files in dist/bundle.
 * A process opens these instead of some hundred small ones. Each program of its own is then one line that imports its bundle.
 */
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { basename, dirname, join, relative } from 'node:path';
import { build } from 'esbuild';

const dist = join(import.meta.dirname, 'dist');

/** What is started as a process or as a thread. */
const programs = [
  'cli.js',
  'cli/audit-worker.js',
  'cli/follow-worker.js',
  'cli/report-worker.js',
  'archive/batch/verify-thread.js',
  'archive/batch/worker-process.js',
  'archive/batch/worker.js',
];

/** A file that looks for others next to it does so from where tsc wrote it. */
const placesKept = {
  name: 'places kept',
  setup: ({ onLoad }) =>
    onLoad({ filter: /[\\/]dist[\\/].*\.js$/ }, ({ path }) => {
      if (relative(dist, path).startsWith('..')) return undefined;
      const place = `new URL(${JSON.stringify(`../${relative(dist, path).replaceAll('\\', '/')}`)}, import.meta.url).href`;
      return { contents: readFileSync(path, 'utf8').replaceAll('import.meta.url', place) };
    }),
};

const { writeCompiled } = await import('./dist/pages/charts/kinds.js');
await writeCompiled();
rmSync(join(dist, 'bundle'), { recursive: true, force: true });
await build({
  entryPoints: programs.map((path) => join(dist, path)),
  outdir: join(dist, 'bundle'),
  entryNames: '[name]',
  bundle: true,
  splitting: true,
  format: 'esm',
  platform: 'node',
  target: 'node20',
  mainFields: ['module', 'main'],
  // These bring files of their own.
  external: ['@sparticuz/chromium', 'highs', 'pdfjs-dist'],
  // Names stay, for who reads where an error came from.
  minifySyntax: true,
  minifyWhitespace: true,
  legalComments: 'eof',
  logLevel: 'warning',
  // Packages that are not modules ask for those of Node.
  banner: {
    js: "import{createRequire as requireOf}from'node:module';const require=requireOf(import.meta.url);",
  },
  plugins: [placesKept],
});

for (const path of programs) {
  const [shebang = ''] = /^#!.*\n/.exec(readFileSync(join(dist, path), 'utf8')) ?? [];
  const bundle = relative(dirname(join(dist, path)), join(dist, 'bundle', basename(path)));
  const from = JSON.stringify(bundle.startsWith('.') ? bundle : `./${bundle}`);
  writeFileSync(join(dist, path), `${shebang}export * from ${from};\n`);
}
