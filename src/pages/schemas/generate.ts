/** `npm run schemas`: writes templates/schemas anew. A test fails as long as they are stale. */
import { mkdir, writeFile } from 'node:fs/promises';
import { jsonSchemas } from './json-schemas.js';
import { schemasFolder } from './folder.js';

await mkdir(schemasFolder, { recursive: true });
for (const [name, text] of jsonSchemas()) await writeFile(new URL(name, schemasFolder), text);
