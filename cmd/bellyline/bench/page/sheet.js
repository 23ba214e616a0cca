// Puts the server's rows of text on the page. Nothing here changes a number.

import { look } from './state.js';

export function make(name, text, className) {
  const e = document.createElement(name);
  if (text !== undefined) e.textContent = text;
  if (className) e.className = className;
  return e;
}

export const list = (ul, lines) => ul.replaceChildren(...lines.map(l => make('li', l)));

// Sheet keeps its table cells as long as the rows are the same, so that a dragged
// line changes only numbers.
export class Sheet {
  constructor(box) { this.box = box; this.form = ''; this.cells = []; this.texts = []; }

  show(groups, colours) {
    const form = JSON.stringify(groups.map(g => [g.number, g.title, g.cautions, g.text.length, g.rows.map(r => [r.key, r.colour, r.label, r.large])]));
    if (form !== this.form) { this.build(groups, colours); this.form = form; }
    let i = 0, k = 0;
    for (const g of groups) {
      for (const t of g.text) this.texts[k++].textContent = t;
      for (const r of g.rows) {
        const [metric, us] = this.cells[i++];
        if (metric.textContent !== r.metric) metric.textContent = r.metric;
        if (us.textContent !== r.us) us.textContent = r.us;
      }
    }
  }

  build(groups, colours) {
    this.cells = []; this.texts = [];
    this.box.replaceChildren(...groups.map(g => {
      const part = make('section', undefined, 'group');
      part.append(make('h3', g.number ? `${g.number} ${g.title}` : g.title));
      if (g.cautions.length) { const ul = make('ul', undefined, 'care'); list(ul, g.cautions); part.append(ul); }
      for (const t of g.text) { const p = make('p', t); this.texts.push(p); part.append(p); }
      if (g.rows.length) part.append(this.table(g, colours));
      return part;
    }));
  }

  table(g, colours) {
    const table = make('table'), head = make('thead'), top = make('tr'), body = make('tbody');
    for (const [name, n] of [['what', ''], ['metric', 'n'], ['US', 'n']]) {
      const th = make('th', name, n); th.scope = 'col'; top.append(th);
    }
    head.append(top);
    for (const r of g.rows) {
      const tr = make('tr', undefined, r.large ? 'large' : ''), what = make('th'), metric = make('td', '', 'n'), us = make('td', '', 'n');
      what.scope = 'row';
      const n = colours.indexOf(r.colour);
      if (r.colour && n >= 0) what.append(make('span', undefined, `chip c${look(n)}`), make('b', r.colour), ': ');
      what.append(r.label);
      metric.dataset.key = r.key; us.dataset.us = r.key;
      this.cells.push([metric, us]);
      tr.append(what, metric, us); body.append(tr);
    }
    table.append(head, body);
    return table;
  }
}

// rowsTable is a table of rows that are not changed; looks are the colours' chips.
export function rowsTable(rows, colours, looks) {
  const table = make('table'), head = make('thead'), top = make('tr'), body = make('tbody');
  for (const [name, n] of [['what', ''], ['metric', 'n'], ['US', 'n']]) { const th = make('th', name, n); th.scope = 'col'; top.append(th); }
  head.append(top);
  for (const r of rows) {
    const tr = make('tr', undefined, r.large ? 'large' : ''), what = make('th'), metric = make('td', r.metric, 'n'), n = colours.indexOf(r.colour);
    what.scope = 'row'; metric.dataset.part = r.key;
    if (n >= 0) what.append(make('span', undefined, `chip c${looks(n)}`), make('b', r.colour), ': ');
    what.append(r.label);
    tr.append(what, metric, make('td', r.us, 'n')); body.append(tr);
  }
  table.append(head, body);
  return table;
}
