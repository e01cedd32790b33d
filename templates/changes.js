// Sorting, filtering and searching of the list of changes. Without it the page is the same tables, grouped by cause.
'use strict';
(() => {
  const controls = document.querySelector('.controls');
  const tables = [...document.querySelectorAll('table.list')];
  if (!controls || tables.length === 0) return;
  const search = document.getElementById('search');
  const cause = document.getElementById('cause');
  const shown = document.getElementById('shown');

  /** Rows of one cause, below the heading that names it; jobs that were not compared have none. */
  const groups = tables.flatMap((table) =>
    [...table.tBodies].map((body) => {
      const head = body.querySelector('.group');
      return {
        table,
        body,
        head,
        title: head ? head.textContent : '',
        rows: [...body.rows]
          .filter((row) => row !== head)
          .map((element) => ({ element, text: element.textContent.toLowerCase() })),
      };
    }),
  );
  const all = groups.reduce((sum, group) => sum + group.rows.length, 0);

  const filter = () => {
    const words = search.value.toLowerCase().split(/\s+/).filter(Boolean);
    let count = 0;
    for (const { head, title, rows } of groups) {
      const ofCause = cause.value === '' || title.includes(cause.value);
      let inGroup = 0;
      for (const row of rows) {
        const fits = ofCause && words.every((word) => row.text.includes(word));
        row.element.hidden = !fits;
        if (fits) inGroup++;
      }
      if (head) head.hidden = inGroup === 0;
      count += inGroup;
    }
    for (const table of tables)
      table.closest('section').hidden = groups.every(
        (group) => group.table !== table || group.rows.every(({ element }) => element.hidden),
      );
    shown.textContent = shown.dataset.found.replace('{shown}', count).replace('{all}', all);
  };

  // Within each cause: the groups stay.
  for (const table of tables)
    sortable(table, (inOrder) => {
      for (const { body, rows } of groups.filter((group) => group.table === table))
        body.append(...inOrder(rows).map(({ element }) => element));
    });
  search.addEventListener('input', filter);
  cause.addEventListener('change', filter);
  controls.addEventListener('submit', (event) => event.preventDefault());
  controls.hidden = false;
  filter();
})();
