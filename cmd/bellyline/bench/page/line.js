// The fields of the line: its kind, where it lies, and what its kind has besides.

import { options } from './fields.js';
import { addPoint, now, removePoint, setPoint, settle } from './handles.js';
import { make } from './sheet.js';
import { heightAt, middle, wantedSheets } from './sheets.js';
import { bench, $, cell } from './state.js';

// kinds are the lines that there are to choose from. A straight one is level until it
// is tilted.
const kinds = {
  straight: { name: 'straight', share: 'Belly to back', height: 'Height in the model, mm', help: 'Drag the handle at the nose to move the line, the one at the tail to tilt it; or use the arrow keys on them: page up and down move ten steps, Home on the tilt makes the line level.' },
  drawn: { name: 'drawn through points', share: 'Belly to back', height: 'Raised by, mm', help: 'Drag the points, or use the arrow keys on them. Plus adds a point behind one, Delete takes it out; clicking twice on the picture adds one there. The handle at the nose moves the whole line.' },
  layers: { name: 'two lines, three colours', share: 'Below the lower line', height: 'Lower line, height in the model, mm', help: 'Drag the handle at the nose to move the lower line, the one at the tail to move the upper line; or use the arrow keys on them.' },
  stripe: { name: 'stripe along the back', share: 'Body to stripe', height: 'Floor of the stripe, height in the model, mm', help: 'Drag the handle to move the floor of the stripe, or use the arrow keys on it.' },
  crosswise: { name: 'across: tail and head', share: 'Tail to head', height: 'Place along the bait, mm', help: 'Drag the handle to move the line along the bait, or use the arrow keys on it.' },
};

export const kindOf = line => line.kind === 'level' || line.kind === 'tilted' ? 'straight' : line.kind;

// coloursOf are the colours below and above the line, as the mold file or the kind of
// line calls them.
export function coloursOf() {
  const { settings } = bench, names = settings.colours.map(c => c.name);
  return names.length === 2 && kindOf(settings.line) === 'layers' ? [names[0], 'layer 2', names[1]] : names;
}

// LineForm shows the fields that the line has; changed is called after each change.
export class LineForm {
  constructor(changed) {
    this.changed = changed;
    $('line-kind').replaceChildren(...Object.entries(kinds).map(([k, v]) => new Option(v.name, k)));
    $('line-kind').addEventListener('change', () => { choose($('line-kind').value); this.show(); changed(); });
    this.listen();
  }

  listen() {
    const on = (id, set) => $(id).addEventListener('change', () => { set($(id).value); this.changed(); });
    const number = (id, set) => on(id, v => { if (v !== '' && Number.isFinite(Number(v))) set(Number(v)); });
    on('share', v => { bench.settings.share = v; bench.settings.height_mm = null; });
    number('height', v => { bench.settings.height_mm = v; });
    on('upper-share', v => { bench.settings.line.upper_share = v; bench.settings.line.upper_mm = null; });
    number('upper', v => { bench.settings.line.upper_mm = v; });
    for (const [id, key] of [['fore', 'tilt_deg'], ['side', 'roll_deg']]) number(id, v => {
      const { settings } = bench, l = settings.line;
      l[key] = v; l.kind = l.tilt_deg || l.roll_deg ? 'tilted' : 'level';
      if (cell('line.asked_share') && settings.height_mm !== null) { settings.share = String(bench.last.pour.line.asked_share); settings.height_mm = null; } // typed, a tilt keeps the share
    });
    for (const [id, key] of [['wide', 'width_mm'], ['across', 'across_mm'], ['draft', 'draft_deg']]) number(id, v => { bench.settings.line[key] = v; });
    $('smooth').addEventListener('change', () => { bench.settings.line.smooth = $('smooth').checked; this.changed(); });
    $('add-point').addEventListener('click', () => {
      settle();
      const points = bench.settings.line.points_mm;
      let at = 0; // into the widest gap
      for (let i = 1; i < points.length - 1; i++) if (points[i + 1][0] - points[i][0] > points[at + 1][0] - points[at][0]) at = i;
      addPoint((points[at][0] + points[at + 1][0]) / 2);
      this.show(); this.changed();
    });
  }

  // show puts up the fields of the kind, and what they hold.
  show() {
    const { settings, open } = bench, kind = kindOf(settings.line), words = kinds[kind], solid = open.kind === 'bait';
    $('line-kind').value = kind;
    for (const e of document.querySelectorAll('#line-part .of-model')) e.hidden = !solid;
    for (const e of document.querySelectorAll('#line-part [data-of]')) e.hidden = !solid || e.dataset.of !== kind;
    $('share-name').textContent = words.share; $('height-name').textContent = words.height;
    $('knob-help').textContent = words.help + ' Drag the bait to turn it.';
    this.points();
    this.fill();
  }

  // points lists the points of a drawn line as numbers.
  points() {
    const points = bench.settings.line.points_mm;
    this.count = points.length;
    $('points').replaceChildren(...points.map((p, i) => {
      const row = make('div', undefined, 'point-row'), fields = [];
      for (const [k, what] of [[0, 'along, mm'], [1, 'height, mm']]) {
        const input = make('input'), label = make('label', `${i + 1}: ${what} `);
        input.type = 'number'; input.step = 'any'; input.dataset.point = `${i} ${k}`;
        input.addEventListener('change', () => {
          settle();
          const q = [...bench.settings.line.points_mm[i]];
          q[k] = Number(input.value); setPoint(i, ...q);
          this.fill(); this.changed();
        });
        label.append(input); fields.push(label);
      }
      const gone = make('button', '×');
      gone.type = 'button'; gone.setAttribute('aria-label', `Take point ${i + 1} out`); gone.disabled = points.length < 3;
      gone.addEventListener('click', () => { settle(); removePoint(i); this.show(); this.changed(); $('add-point').focus(); });
      row.append(...fields, gone);
      return row;
    }));
  }

  // fill puts numbers into the fields, but not into the one that is being typed in.
  fill() {
    const { settings, last, parts } = bench, l = settings.line, typed = document.activeElement;
    if (l.points_mm.length !== this.count) this.points();
    const put = (id, v) => { const e = $(id); if (e !== typed && v !== null && v !== undefined && e.value !== String(v)) e.value = v; };
    const round = x => x === null || x === undefined ? x : +x.toFixed(4);
    put('fore', round(l.kind === 'tilted' ? l.tilt_deg : 0)); put('side', round(l.kind === 'tilted' ? l.roll_deg : 0));
    put('wide', round(l.width_mm)); put('across', round(l.across_mm)); put('draft', round(l.draft_deg));
    $('smooth').checked = l.smooth;
    for (const e of document.querySelectorAll('#points input')) { const [i, k] = e.dataset.point.split(' '); if (e !== typed) e.value = round(l.points_mm[i][k]); }
    if (l.kind === 'layers') {
      const [a, b] = parts?.split?.line.heights_mm ?? [];
      put('height', round(settings.height_mm ?? a)); put('upper', round(l.upper_mm ?? b));
      put('share', settings.height_mm === null ? settings.share : ''); put('upper-share', l.upper_mm === null ? l.upper_share : '');
      return;
    }
    put('height', l.kind === 'drawn' ? round(settings.height_mm) ?? '' : round(settings.height_mm ?? last?.line?.asked_mm ?? parts?.split?.line.height_mm));
    put('share', cell('line.asked_share') || (last ? settings.share : ''));
  }
}

// choose gives the line another kind, near where it lies.
function choose(kind) {
  const { settings, open, last } = bench, l = settings.line, sheet = wantedSheets()[0], across = middle(open.wide_mm);
  const [tail, nose] = open.long_mm, { low_mm: low, high_mm: high } = last.line;
  const over = x => { const h = sheet && heightAt(sheet, x, across); return Number.isFinite(h) && h > low && h < high ? h : middle([low, high]); };
  const share = last.pour?.line ? String(last.pour.line.asked_share) : '50/50', at = over(middle(open.long_mm));
  l.kind = kind;
  switch (kind) {
    case 'straight': l.kind = 'level'; l.tilt_deg = l.roll_deg = 0; settings.height_mm = at; break;
    case 'drawn': l.points_mm = [0, 1 / 3, 2 / 3, 1].map(k => tail + k * (nose - tail)).map(x => [x, over(x)]); settings.height_mm = 0; break;
    case 'layers': settings.height_mm = at; l.upper_mm = middle([at, high]); break;
    case 'stripe': settings.height_mm = at; l.width_mm = (open.wide_mm[1] - open.wide_mm[0]) / 4; l.across_mm = across; l.draft_deg = l.draft_deg || 5; break;
    case 'crosswise': settings.height_mm = null; settings.share = share; break;
  }
}
