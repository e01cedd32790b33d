// Sorting, filtering and searching of the register. Without it the page is the same tables, in order of the job ids.
'use strict';
(() => {
  const table = document.getElementById('reports');
  const controls = document.querySelector('.controls');
  if (!table || !controls) return;
  const body = table.tBodies[0];
  const rows = [...body.rows].map((element) => ({
    element,
    text: element.textContent.toLowerCase(),
    verdict: element.dataset.verdict,
  }));
  const search = document.getElementById('search');
  const verdict = document.getElementById('verdict');
  const shown = document.getElementById('shown');

  const filter = () => {
    const words = search.value.toLowerCase().split(/\s+/).filter(Boolean);
    let count = 0;
    for (const row of rows) {
      const fits =
        (verdict.value === '' || row.verdict === verdict.value) && words.every((word) => row.text.includes(word));
      row.element.hidden = !fits;
      if (fits) count++;
    }
    shown.textContent = `${count} of ${rows.length} shown`;
  };

  const orderOf = (row, column) => {
    const cell = row.element.cells[column];
    const text = cell.dataset.order ?? cell.textContent.trim();
    const number = Number(text.replace('%', ''));
    return { text, number: text === '' || Number.isNaN(number) ? null : number };
  };
  const compare = (a, b) => {
    if (a.number !== null && b.number !== null) return a.number - b.number;
    return a.text.localeCompare(b.text, 'en', { numeric: true });
  };
  const sort = (head, column) => {
    const direction = head.getAttribute('aria-sort') === 'ascending' ? -1 : 1;
    for (const other of table.tHead.rows[0].cells) other.removeAttribute('aria-sort');
    head.setAttribute('aria-sort', direction === 1 ? 'ascending' : 'descending');
    const keyed = rows.map((row) => ({ row, key: orderOf(row, column) }));
    keyed.sort((a, b) => {
      // What has no figure stays at the end either way.
      if ((a.key.text === '') !== (b.key.text === '')) return a.key.text === '' ? 1 : -1;
      return direction * compare(a.key, b.key);
    });
    body.append(...keyed.map(({ row }) => row.element));
  };

  [...table.tHead.rows[0].cells].forEach((head, column) => {
    if (head.classList.contains('files')) return;
    const button = document.createElement('button');
    button.type = 'button';
    button.textContent = head.textContent;
    button.addEventListener('click', () => sort(head, column));
    head.replaceChildren(button);
  });
  search.addEventListener('input', filter);
  verdict.addEventListener('change', filter);
  controls.addEventListener('submit', (event) => event.preventDefault());
  controls.hidden = false;
  filter();
})();
