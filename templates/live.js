// report.html under pointer, finger and keys. Without it everything is there; it fetches nothing and keeps nothing.
'use strict';
(() => {
  const data = (id) => JSON.parse(document.getElementById(id).textContent);
  const inUnits = data('stations-data');
  const words = data('live-words');
  let stations = inUnits[0];
  let reference = 0;
  const make = (tag, attributes = {}, text = '') => {
    const element = document.createElement(tag);
    for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
    element.textContent = text;
    return element;
  };
  /** "A:18: +7.2 µm as left" → "A:18", if the report knows such a station. */
  const keyOf = (says) => {
    for (let at = says.indexOf(': '); at >= 0; at = says.indexOf(': ', at + 1))
      if (Object.hasOwn(stations, says.slice(0, at))) return says.slice(0, at);
    return null;
  };

  // -- what is told of a station, beside it and in every figure --
  const told = make('div', { class: 'told', role: 'status' });
  told.hidden = true;
  document.body.append(told);
  const marks = [...document.querySelectorAll('.drawn [data-says]')];
  const keys = new Map(marks.map((mark) => [mark, keyOf(mark.dataset.says)]));
  const hide = () => {
    told.hidden = true;
    for (const mark of document.querySelectorAll('.lit')) mark.classList.remove('lit');
  };
  const place = (mark) => {
    const box = mark.getBoundingClientRect();
    const left = Math.max(8, Math.min(box.left, innerWidth - told.offsetWidth - 8));
    const above = box.top - told.offsetHeight - 10;
    told.style.left = `${left}px`;
    told.style.top = `${above > 8 ? above : box.bottom + 10}px`;
  };
  let shown = null;
  const show = (mark) => {
    hide();
    shown = mark;
    const key = keys.get(mark);
    for (const other of marks) if (other === mark || (key !== null && keys.get(other) === key)) other.classList.add('lit');
    // A line with a text for each reference line; the first has none, because all figures are from it.
    const lines = (stations[key] ?? []).map((line) => (Array.isArray(line) ? line[reference] : line));
    told.replaceChildren(make('strong', {}, mark.dataset.says), ...lines.filter(Boolean).map((line) => make('p', {}, line)));
    told.hidden = false;
    place(mark);
  };

  for (const figure of document.querySelectorAll('.drawn')) {
    const own = marks.filter((mark) => figure.contains(mark));
    if (own.length === 0) continue;
    const drawn = () => own.filter((mark) => mark.getClientRects().length > 0);
    const middle = (mark) => {
      const { left, right, top, bottom } = mark.getBoundingClientRect();
      return [(left + right) / 2, (top + bottom) / 2];
    };
    const nearest = (event, reach) => {
      let best = [null, reach];
      for (const mark of drawn()) {
        const [x, y] = middle(mark);
        const away = Math.hypot(x - event.clientX, y - event.clientY);
        if (away < best[1]) best = [mark, away];
      }
      return best[0];
    };
    const point = (event) => {
      const mark = nearest(event, event.pointerType === 'touch' ? 36 : 16);
      if (mark === null) hide();
      else show(mark);
    };
    figure.addEventListener('pointermove', point);
    figure.addEventListener('pointerdown', point);
    figure.addEventListener('pointerleave', (event) => event.pointerType !== 'touch' && hide());
    figure.tabIndex = 0;
    figure.setAttribute('role', 'application');
    figure.setAttribute('aria-label', words.keys.replace('{title}', () => figure.dataset.title));
    let at = -1;
    figure.addEventListener('keydown', (event) => {
      const list = drawn();
      const to = { ArrowRight: at + 1, ArrowLeft: at - 1, Home: 0, End: list.length - 1 }[event.key];
      if (event.key === 'Escape') hide();
      if (to === undefined) return;
      event.preventDefault();
      at = Math.max(0, Math.min(list.length - 1, to));
      show(list[at]);
    });
    figure.addEventListener('blur', hide);
  }
  addEventListener('scroll', () => told.hidden || place(shown), { passive: true });

  // -- what is wider than the screen is reached by keys too --
  const reachable = () => {
    for (const box of document.querySelectorAll('.scroll, .drawn:not([role])'))
      if (box.scrollWidth > box.clientWidth) box.tabIndex = 0;
      else box.removeAttribute('tabindex');
  };
  addEventListener('resize', reachable);
  reachable();

  /** Buttons of which one is pressed, before everything. */
  const choice = (css, label, names, choose) => {
    const bar = make('p', { class: `switch ${css}`, role: 'group', 'aria-label': label }, label + words.colon);
    const told = make('span', { role: 'status' });
    const buttons = names.map((name, k) => make('button', { type: 'button', 'aria-pressed': String(k === 0) }, name));
    let chosen = 0;
    buttons.forEach((button, k) =>
      button.addEventListener('click', () => {
        if (chosen === k) return;
        chosen = k;
        hide();
        buttons.forEach((other) => other.setAttribute('aria-pressed', String(other === button)));
        told.textContent = choose(k);
      }),
    );
    for (const button of buttons) bar.append(button, ' ');
    bar.append(told);
    document.querySelector('main').prepend(bar);
  };

  // -- the reference line from which a station's deviation is told --
  if (Object.values(stations).some((lines) => lines.some(Array.isArray)) && marks.length > 0)
    choice('reference', words.reference, words.references, (k) => {
      reference = k;
      return k === 0 ? '' : words.judged;
    });

  // -- the other unit: each text that it changes has the other text with it --
  if (inUnits.length > 1)
    choice('unit', words.unit, words.units, (k) => {
      stations = inUnits[k];
      for (const one of document.querySelectorAll('data')) [one.textContent, one.value] = [one.value, one.textContent];
      return k === 0 || marks.length === 0 ? '' : words.drawn;
    });

  // -- phases on and off --
  const phases = ['as-found', 'as-left'].filter((phase) => document.querySelector(`.drawn .${phase} > *`) !== null);
  if (phases.length === 2) {
    const bar = make('p', { class: 'switch phases', role: 'group', 'aria-label': words.phases }, `${words.inFigures} `);
    for (const phase of phases) {
      const button = make('button', { type: 'button', 'aria-pressed': 'true' }, words[phase]);
      button.addEventListener('click', () => {
        const isOff = document.body.classList.toggle(`no-${phase}`);
        button.setAttribute('aria-pressed', String(!isOff));
      });
      bar.append(button, ' ');
    }
    (document.querySelector('main .drawn')?.parentElement ?? document.querySelector('main')).before(bar);
  }

  // -- tables of stations: sorted by any column, filtered by words --
  const numberOf = (text) => {
    const found = /^[+\u2212-]?[\d\u202f\u2009]+(?:[.,]\d+)?/.exec(text.trim());
    return found === null ? NaN : Number(found[0].replace('\u2212', '-').replace(words.mark, '.').replace(/[\u202f\u2009]/g, ''));
  };
  for (const table of document.querySelectorAll('table.stations')) {
    const body = table.tBodies[0];
    if (body === undefined || table.tHead === null) continue;
    const rows = [...body.rows];
    const name = table.caption?.textContent ?? 'stations';
    const label = make('label', { class: 'filter' }, `${words.rows} `);
    const input = make('input', { type: 'search', 'aria-label': words.rowsOf.replace('{table}', () => name) });
    input.addEventListener('input', () => {
      const words = input.value.toLowerCase().split(/\s+/).filter(Boolean);
      for (const row of rows)
        row.hidden = !words.every((word) => row.textContent.toLowerCase().includes(word));
    });
    label.append(input);
    (table.closest('.scroll') ?? table).before(label);
    const last = table.tHead.rows.length - 1;
    const taken = [...table.tHead.rows].map(() => []);
    for (const [r, row] of [...table.tHead.rows].entries())
      for (const cell of row.cells) {
        let column = 0;
        while (taken[r][column]) column++;
        for (let i = 0; i < cell.rowSpan && r + i <= last; i++)
          for (let k = 0; k < cell.colSpan; k++) taken[r + i][column + k] = true;
        if (r + cell.rowSpan - 1 < last || cell.textContent.trim() === '') continue;
        const button = make('button', { type: 'button', class: 'sort' });
        button.append(...cell.childNodes);
        cell.append(button);
        let turn = -1;
        button.addEventListener('click', () => {
          turn = -turn;
          for (const other of table.querySelectorAll('[aria-sort]')) other.removeAttribute('aria-sort');
          cell.setAttribute('aria-sort', turn === 1 ? 'ascending' : 'descending');
          const value = (row) => row.cells[column]?.textContent ?? '';
          const compare = (a, b) => {
            const [x, y] = [numberOf(value(a)), numberOf(value(b))];
            const isText = Number.isNaN(x) || Number.isNaN(y);
            return turn * (isText ? value(a).localeCompare(value(b), document.documentElement.lang, { numeric: true }) : x - y);
          };
          // Each rail by itself: a row of one cell is its title.
          let part = [];
          for (const row of [...rows, null]) {
            if (row !== null && row.cells.length > 1) part.push(row);
            else {
              body.append(...part.sort(compare), ...(row === null ? [] : [row]));
              part = [];
            }
          }
        });
      }
  }
})();
