/** Where the JSON Schemas stand; the same from src/schemas/ and from dist/schemas/. */
export const schemasFolder = new URL('../../templates/schemas/', import.meta.url);
