/** What the tests use of it; the package has no types of its own. */
declare module 'js-yaml' {
  export function load(text: string): unknown;
}
