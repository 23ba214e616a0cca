// The model as it was read, what is wrong with it, and a mold half's hollows.

import { drawHalf } from './draw.js';
import { options } from './fields.js';
import { list, make } from './sheet.js';
import { bench, $ } from './state.js';

// drawModel shows how the model was read and what is wrong with it.
export function drawModel() {
  const { open } = bench, m = open.measured, lines = [];
  if (m) {
    if (m.reason) lines.push('No volume: ' + m.reason);
    for (const p of m.problems) lines.push(`${p.count} × ${p.kind.replaceAll('_', ' ')}: ${p.where.join('; ')}`);
    lines.push(...m.notes);
    if (open.kind === 'broken') lines.push(...m.warnings);
  }
  if (open.half) lines.push(...(open.half.warnings ?? []));
  list($('problems'), lines);
  const directions = ['+x', '-x', '+y', '-y', '+z', '-z'], r = open.reading;
  options($('unit'), ['mm', 'cm', 'in', 'm'], r.unit); options($('back'), directions, r.back); options($('nose'), directions, r.nose);
  $('kind').value = r.half ? 'half' : 'bait'; $('mend').checked = r.mend;
  const rows = [];
  const row = (key, what, value) => { const tr = make('tr'), th = make('th', what), td = make('td', value, 'n'); th.scope = 'row'; td.dataset.measured = key; tr.append(th, td); rows.push(tr); };
  if (m) {
    if (m.fill_volume_mm3 !== null) row('fill_volume_mm3', 'holds', `${m.fill_volume_mm3.toFixed(1)} mm³`);
    row('size_mm', 'size', m.size_mm.map(x => x.toFixed(1)).join(' × ') + ' mm');
    row('triangles', 'facets', `${m.triangles}`); row('closed', 'closed', m.closed ? 'yes' : 'no');
  }
  $('model').replaceChildren(...rows);
}

export function drawHalfPart() {
  const { open } = bench;
  drawHalf($('half'), open);
  const head = make('tr');
  for (const t of ['', 'kind', 'holds', 'opening', 'depth', 'undercut']) { const th = make('th', t); th.scope = 'col'; head.append(th); }
  const rows = open.half.hollows.map(h => {
    const tr = make('tr'), id = make('th', `${h.id}`);
    id.scope = 'row'; tr.append(id, make('td', h.kind + (h.through ? ', through' : '')));
    for (const [x, digits, unit] of [[h.volume_mm3, 1, 'mm³'], [h.opening_mm2, 1, 'mm²'], [h.depth_mm, 2, 'mm'], [h.undercut_mm2, 1, 'mm²']]) tr.append(make('td', `${x.toFixed(digits)} ${unit}`, 'n'));
    return tr;
  });
  $('hollows').replaceChildren(head, ...rows);
}
