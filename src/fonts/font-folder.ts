import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The same from src/fonts/ and from dist/fonts/. */
export const fontFolder = join(dirname(fileURLToPath(import.meta.url)), '..', '..', 'templates', 'fonts');
