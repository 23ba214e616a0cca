// The model as it was read, what is wrong with it, and a mold half's hollows.

import { drawHalf } from './draw.js';
import { options } from './fields.js';
import { list, make, rowsTable } from './sheet.js';
import { bench, $ } from './state.js';

// faults say in plain words what the kinds of problem are.
const faults = {
  boundary_edge: 'the rim of a hole: a facet is missing beside it',
  misoriented_edge: 'the facets beside it face different ways; those that are turned over are lit whole',
  nonmanifold_edge: 'more than two facets meet there',
  degenerate_facet: 'two of its corners are equal',
  zero_area_facet: 'its corners lie on one line',
  duplicate_facet: 'it lies where another facet lies',
  inside_out_shell: 'a part all of whose facets are turned over, lit whole',
};

// problem is one kind of problem, with a button for each place that turns it to the eye.
function problem(p, show) {
  const li = make('li', `${p.count} × ${p.kind.replaceAll('_', ' ')}: ${faults[p.kind] ?? ''}`), places = make('ul');
  p.where.forEach((text, i) => {
    const one = make('li', text + ' '), turn = make('button', 'turn it here');
    turn.type = 'button'; turn.className = 'turn-to'; turn.setAttribute('aria-label', `turn it here: ${p.kind.replaceAll('_', ' ')} ${i + 1}`);
    turn.addEventListener('click', () => show(p.at_mm[i], `${p.kind.replaceAll('_', ' ')}: ${text}`));
    one.append(turn); places.append(one);
  });
  li.append(places);
  if (p.count > p.where.length) li.append(make('span', 'Not each of them has a button; all are lit.'));
  return li;
}

// drawModel shows how the model was read and what is wrong with it.
export function drawModel(show) {
  const { open } = bench, m = open.measured, lines = [];
  if (m) {
    if (m.reason) lines.push('No volume: ' + m.reason.replace('--mend does that', 'tick "mend what is broken" to have that done'));
    lines.push(...m.notes);
    if (open.kind === 'broken') lines.push(...m.warnings);
  }
  if (open.half) lines.push(...(open.half.warnings ?? []));
  list($('problems'), lines);
  for (const p of m?.problems ?? []) $('problems').append(problem(p, show));
  const directions = ['+x', '-x', '+y', '-y', '+z', '-z'], r = open.reading;
  options($('unit'), ['mm', 'cm', 'in', 'm'], r.unit); options($('back'), directions, r.back); options($('nose'), directions, r.nose);
  $('kind').value = r.half ? 'half' : 'bait'; $('mend').checked = r.mend;
  $('model').replaceChildren(...(open.model_rows.length ? rowsTable(open.model_rows, [], []).children : []));
}

export function drawHalfPart() {
  const { open } = bench;
  drawHalf($('half'), open);
  const head = make('tr');
  for (const t of ['', 'kind', 'holds', 'opening', 'depth', 'undercut']) { const th = make('th', t); th.scope = 'col'; head.append(th); }
  const rows = open.hollow_rows.map(h => {
    const tr = make('tr'), id = make('th', `${h.id}`);
    id.scope = 'row'; tr.append(id, make('td', h.kind));
    for (const c of h.cells) {
      const td = make('td', undefined, 'n'), metric = make('span', c.metric);
      metric.dataset.hollow = c.key; td.append(metric);
      if (c.us) td.append(make('small', c.us));
      tr.append(td);
    }
    return tr;
  });
  $('hollows').replaceChildren(head, ...rows);
}
