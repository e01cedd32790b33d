// Sorting, filtering and searching of the register. Without it the page is the same tables, in order of the job ids.
'use strict';
// In the head of the page: a long table is not laid out before it is known which part of it is shown.
document.documentElement.classList.add('loading');
addEventListener('DOMContentLoaded', () => {
  document.documentElement.classList.remove('loading');
  const table = document.getElementById('reports');
  const controls = document.querySelector('.controls');
  if (!table || !controls) return;
  // Of a long register a part is shown at a time: laying out ten thousand rows would take seconds.
  const step = 500;
  const body = table.tBodies[0];
  let rows = [...body.rows].map((element) => ({
    element,
    text: element.textContent.toLowerCase(),
    ...element.dataset,
  }));
  const others = [...(document.getElementById('others')?.tBodies[0].rows ?? [])].map((element) => ({
    element,
    text: element.textContent.toLowerCase(),
    ...element.dataset,
  }));
  const machines = [...document.querySelectorAll('#machines section')];
  const field = (id) => document.getElementById(id);
  const [search, verdict, customer, from, to] = ['search', 'verdict', 'customer', 'from', 'to'].map(field);
  const shown = field('shown');
  const more = field('more');
  let most = step;

  const fill = () => {
    const words = search.value.toLowerCase().split(/\s+/).filter(Boolean);
    const hasWords = (row) => words.every((word) => row.text.includes(word));
    const fits = (row) =>
      (verdict.value === '' || row.verdict === verdict.value) &&
      (!customer || customer.value === '' || row.customer === customer.value) &&
      (from.value === '' || row.day >= from.value) &&
      // A job without a day is of no period.
      (to.value === '' || (row.day !== '–' && row.day <= to.value)) &&
      (from.value === '' || row.day !== '–') &&
      hasWords(row);
    const fitting = rows.filter(fits);
    const now = fitting.slice(0, most);
    body.replaceChildren(...now.map(({ element }) => element));
    const ofMachines = new Set(fitting.map((row) => row.machine));
    for (const section of machines) section.hidden = !ofMachines.has(section.id);
    // Jobs without a report have no customer and no day.
    const isWide = (!customer || customer.value === '') && from.value === '' && to.value === '';
    let unreported = 0;
    for (const row of others) {
      const isShown = isWide && hasWords(row) && (verdict.value === '' || row.verdict === verdict.value);
      row.element.hidden = !isShown;
      if (isShown) unreported++;
    }
    const noReport = document.getElementById('others');
    if (noReport) noReport.hidden = unreported === 0;
    const { found, first } = shown.dataset;
    const counted = found
      .replace('{shown}', fitting.length + unreported)
      .replace('{all}', rows.length + others.length);
    shown.textContent =
      now.length === fitting.length
        ? counted
        : first.replace('{found}', counted).replace('{now}', now.length);
    more.hidden = now.length === fitting.length;
  };
  const refill = () => {
    most = step;
    fill();
  };

  sortable(table, (inOrder) => {
    rows = inOrder(rows);
    refill();
  });
  for (const control of [search, verdict, customer, from, to]) control?.addEventListener('input', refill);
  controls.addEventListener('submit', (event) => event.preventDefault());
  controls.addEventListener('reset', () => setTimeout(refill));
  more.addEventListener('click', () => {
    most *= 4;
    fill();
  });
  // On paper all that fits; afterwards as it was.
  let before = most;
  addEventListener('beforeprint', () => {
    before = most;
    most = Infinity;
    fill();
  });
  addEventListener('afterprint', () => {
    most = before;
    fill();
  });
  controls.hidden = false;
  fill();
});
