/** The contents of a report: numbers of pages, and the print that finds them. */
import { expect, test } from 'vitest';
import { withoutDrawings } from '../../../src/pages/report/contents.js';

const picture = (svg: string) =>
  `<img src="data:image/svg+xml;base64,${Buffer.from(svg).toString('base64')}" alt="a curve">`;

test('without drawings a page has its pictures, of the same size, and nothing in them', () => {
  const opening = '<svg xmlns="http://www.w3.org/2000/svg" width="640" height="200" viewBox="0 0 640 200">';
  const page = `<h1>Report</h1>${picture(`${opening}<path d="M0,0L9,9"/></svg>`)}<p>x</p>`;
  expect(withoutDrawings(page)).toBe(`<h1>Report</h1>${picture(`${opening}</svg>`)}<p>x</p>`);
});

test('what is no drawing stays as it is', () => {
  const page = `${picture('not a drawing')}<img src="data:image/png;base64,AAAA">`;
  expect(withoutDrawings(page)).toBe(page);
});
