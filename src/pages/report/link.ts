/** Links of our pages to the files next to them. */

/** Each part written so that nothing in it can end the path, leave the folder's tree by a scheme, or ask a server. */
export const linkTo = (path: string): string =>
  path
    .split('/')
    .map((part) => (part === '..' ? part : encodeURIComponent(part)))
    .join('/')
    .replace(/^(?!\.\.\/)/, './');
