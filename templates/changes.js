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
    shown.textContent = `${count} of ${all} rows shown`;
  };

  const keyOf = (row, column) => {
    const cell = row.element.cells[column];
    const text = cell.dataset.order ?? cell.textContent.trim();
    const number = Number(text);
    return { text, number: text === '' || Number.isNaN(number) ? null : number };
  };
  const compare = (a, b) => {
    if (a.number !== null && b.number !== null) return a.number - b.number;
    return a.text.localeCompare(b.text, 'en', { numeric: true });
  };
  /** Within each cause: the groups stay. */
  const sort = (table, head, column) => {
    const direction = head.getAttribute('aria-sort') === 'ascending' ? -1 : 1;
    for (const other of table.tHead.rows[0].cells) other.removeAttribute('aria-sort');
    head.setAttribute('aria-sort', direction === 1 ? 'ascending' : 'descending');
    for (const { body, rows } of groups.filter((group) => group.table === table)) {
      const keyed = rows.map((row) => ({ row, key: keyOf(row, column) }));
      keyed.sort((a, b) => {
        // What has no figure stays at the end either way.
        if ((a.key.text === '') !== (b.key.text === '')) return a.key.text === '' ? 1 : -1;
        return direction * compare(a.key, b.key);
      });
      body.append(...keyed.map(({ row }) => row.element));
    }
  };

  for (const table of tables)
    [...table.tHead.rows[0].cells].forEach((head, column) => {
      const button = document.createElement('button');
      button.type = 'button';
      button.textContent = head.textContent;
      button.addEventListener('click', () => sort(table, head, column));
      head.replaceChildren(button);
    });
  search.addEventListener('input', filter);
  cause.addEventListener('change', filter);
  controls.addEventListener('submit', (event) => event.preventDefault());
  controls.hidden = false;
  filter();
})();
