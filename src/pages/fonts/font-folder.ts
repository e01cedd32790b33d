import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The same from src/pages/fonts/ and from dist/pages/fonts/. */
export const fontFolder = join(
  dirname(fileURLToPath(import.meta.url)),
  '..',
  '..',
  '..',
  'templates',
  'fonts',
);
