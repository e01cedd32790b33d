/** Where the JSON Schemas are; the same from src/pages/schemas/ and from dist/pages/schemas/. */
export const schemasFolder = new URL('../../../templates/schemas/', import.meta.url);
