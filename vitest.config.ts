import { readdirSync, readFileSync } from 'node:fs';
import { defineConfig } from 'vitest/config';

/**
 * A few processes do all files, one file after the other: what a file has loaded, the next finds loaded and compiled. A file
 * that puts a module of its own in another's place would leave it there, so it gets a process of its own.
 */
const files = readdirSync('tests', { recursive: true })
  .map((name) => `tests/${String(name)}`)
  .filter((name) => name.endsWith('.test.ts'));
const mocking = files.filter((name) => readFileSync(name, 'utf8').includes('vi.mock('));

export default defineConfig({
  resolve: {
    alias: [{ find: /^highs$/, replacement: `${import.meta.dirname}/tests/support/remembered-highs.ts` }],
  },
  test: {
    globalSetup: ['tests/support/global-setup.ts'],
    setupFiles: [
      'src/base/machine-code.ts',
      'tests/support/property-seed.ts',
      ...(process.env['WAYSHEET_COST'] === undefined ? [] : ['tests/support/cost.ts']),
    ],
    pool: 'forks',
    // One more than the two cores that CI has: some tests only wait, for a browser, a scheduler or a limit.
    maxWorkers: 3,
    // Ends what would never end; no test measures time.
    testTimeout: 240_000,
    hookTimeout: 240_000,
    projects: [
      {
        extends: true,
        test: { name: 'together', include: ['tests/**/*.test.ts'], exclude: mocking, isolate: false },
      },
      { extends: true, test: { name: 'alone', include: mocking, isolate: true } },
    ],
  },
});
