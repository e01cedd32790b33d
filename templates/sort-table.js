// Tables whose rows are sorted by a click on a column's head; the pages that use it stand after it.
'use strict';
globalThis.sortable = (() => {
  const keyOf = (row, column) => {
    const cell = row.element.cells[column];
    const text = cell.dataset.order ?? cell.textContent.trim();
    const number = Number(text);
    return { row, text: text === '–' ? '' : text, number: text === '' || Number.isNaN(number) ? null : number };
  };
  const collator = new Intl.Collator('en', { numeric: true });
  const compare = (a, b) =>
    a.number !== null && b.number !== null ? a.number - b.number : collator.compare(a.text, b.text);
  const inOrder = (rows, column, direction) =>
    rows
      .map((row) => keyOf(row, column))
      .sort((a, b) => {
        // What has no figure stays at the end either way.
        if ((a.text === '') !== (b.text === '')) return a.text === '' ? 1 : -1;
        return direction * compare(a, b);
      })
      .map(({ row }) => row);

  /** What a cell's column is called, for screens too narrow for columns. */
  const label = (table) => {
    const heads = [...table.tHead.rows[0].cells].map((head) => head.textContent.replace(/\u00ad/g, ''));
    for (const body of table.tBodies)
      for (const row of body.rows)
        if (row.cells.length === heads.length)
          [...row.cells].forEach((cell, i) => i > 0 && cell.setAttribute('data-label', heads[i]));
  };
  addEventListener('DOMContentLoaded', () => {
    if (matchMedia('(max-width: 44rem)').matches) document.querySelectorAll('table').forEach(label);
  });

  /** `sort` is handed a function that returns rows, each with its `element`, in the order that was asked for. */
  return (table, sort) => {
    const heads = [...table.tHead.rows[0].cells];
    heads.forEach((head, column) => {
      if (head.classList.contains('files')) return;
      const button = document.createElement('button');
      button.type = 'button';
      button.textContent = head.textContent;
      button.addEventListener('click', () => {
        const direction = head.getAttribute('aria-sort') === 'ascending' ? -1 : 1;
        for (const other of heads) other.removeAttribute('aria-sort');
        head.setAttribute('aria-sort', direction === 1 ? 'ascending' : 'descending');
        sort((rows) => inOrder(rows, column, direction));
      });
      head.replaceChildren(button);
    });
  };
})();
