// The page: what is open, what is asked for, and what goes where. Every question
// brings all settings; while one is under way the next waits, and only the last counts.

import { ask, bytes, save, upload } from './ask.js';
import { Curve, drawHalf } from './draw.js';
import { barrelsOf, colourFields, options } from './fields.js';
import { Sheet, list, make } from './sheet.js';
import { View } from './view.js';

const $ = id => document.getElementById(id);
let open = null;      // what the server opened
let settings = null;  // what is asked for
let last = null;      // the last answer
let waiting = false, again = false, curveOf = '';

const view = new View($('view'), placeKnob);
const curve = new Curve($('curve'), pullTo);
const sheet = new Sheet($('sheet'));

function refuse(error) {
  $('refusal').textContent = error ? error.message : '';
  $('refusal').hidden = !error;
}

function busy(text, part) {
  $('busy').textContent = text || ''; $('busy').hidden = !text;
  $('progress').hidden = part === undefined; if (part !== undefined) $('progress').value = part;
}

// current waits for what was asked of a work. Once another work has taken its place
// neither an answer nor a refusal is of use: it gives nothing.
async function current(work, asked) {
  try {
    const answer = await asked;
    return open === work ? answer : undefined;
  } catch (e) { if (open === work) throw e; }
}

// show puts up what was opened, in place of what was there.
async function show(opened) {
  if (opened.kind === 'none') return;
  if (open) navigator.sendBeacon(`/api/work/${open.id}/close`);
  // What was asked of the work before has no place here.
  again = false; clearTimeout(resting); stopRest.abort();
  open = opened; settings = opened.settings; last = null; curveOf = '';
  const pours = open.kind === 'bait' || open.kind === 'weighed', two = settings.colours.length === 2, drawn = open.drawn > 0;
  document.title = `${open.bait}: bench`;
  $('title').textContent = open.bait; $('subtitle').textContent = open.name;
  list($('care').querySelector('ul'), open.cautions); $('care').hidden = false;
  list($('notes'), open.notes); $('notes').hidden = !open.notes.length;
  $('stage-part').hidden = !drawn; $('half-part').hidden = open.kind !== 'half'; $('curve-part').hidden = open.kind !== 'bait';
  $('model-part').hidden = !open.measured && !open.half;
  $('cavities').disabled = open.fixed;
  $('work').hidden = !pours;
  $('line-part').hidden = !two; $('knob').hidden = !(two && open.kind === 'bait'); $('knob-help').hidden = $('knob').hidden;
  for (const e of document.querySelectorAll('#height-field, .tilt')) e.hidden = open.kind !== 'bait';
  for (const b of document.querySelectorAll('[data-save]')) b.hidden = { belly: !two || open.kind !== 'bait', back: !two || open.kind !== 'bait', shop: !open.starter }[b.dataset.save] || false;
  $('glance').replaceChildren();
  legend(two); model(); if (pours) fields();
  if (drawn) {
    $('no-view').hidden = view.works;
    view.orient(open.nose, open.back, open.centre, open.kind === 'half');
    view.part(open.back, null, null);
    const shape = await current(opened, bytes(`/api/work/${open.id}/shape`));
    if (!shape) return;
    view.load(shape);
    if (open.kind !== 'bait') { $('view').setAttribute('aria-label', open.kind === 'half' ? 'The mold half' : `The model; ${open.wrong} broken edges are lit`); }
  }
  if (open.kind === 'half') half();
  if (pours) await change();
}

function legend(two) {
  const parts = [];
  const item = (mark, text) => { const s = make('span'); s.append(make('span', undefined, mark), text); parts.push(s); };
  if (two && open.kind === 'bait') {
    settings.colours.forEach((c, n) => item(`chip c${n}`, `${c.name}${n ? ', dotted' : ', striped'}`));
    item('mark', 'line as wanted'); item('mark dashed', 'line as the barrels put it');
  }
  if (open.wrong) parts.push(make('span', `${open.wrong} broken edges are lit`));
  if (open.measured && open.drawn < open.measured.triangles) parts.push(make('span', `shown thinned to ${open.drawn} of ${open.measured.triangles} facets; measured whole`));
  $('legend').replaceChildren(...parts);
}

// model shows how the model was read and what is wrong with it.
function model() {
  const m = open.measured, lines = [];
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

function half() {
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

function fields() {
  options($('injector'), open.choices.injectors.map(i => i.name), settings.injector);
  options($('vessel'), open.choices.vessels, settings.vessel);
  $('cavities').value = settings.cavities; $('baits').value = settings.baits || '';
  $('share').value = ''; $('height').value = ''; $('fore').value = 0; $('side').value = 0;
  colourFields($('colours'), open.choices, settings, change);
}

// change asks for the answer to the settings as they are when the server is free.
async function change() {
  again = true;
  clearTimeout(resting); stopRest.abort();
  if (waiting) return;
  waiting = true;
  $('numbers').setAttribute('aria-busy', 'true');
  const late = setTimeout(() => { $('numbers').classList.add('stale'); busy('working it out …'); }, 300);
  try {
    while (again) {
      again = false;
      try {
        const answer = await current(open, ask(`/api/work/${open.id}/answer`, settings));
        if (answer) take(answer);
      } catch (e) { refuse(e); }
    }
  } finally { waiting = false; clearTimeout(late); $('numbers').classList.remove('stale'); $('numbers').setAttribute('aria-busy', 'false'); busy(); }
  pullCurve();
  if (last?.line && last.pour) resting = setTimeout(rest, 900);
}

// rest asks, once the line rests, where two streams put it: that takes a while.
let resting = 0, stopRest = new AbortController();

async function rest() {
  const stop = stopRest = new AbortController();
  try {
    const answer = await current(open, ask(`/api/work/${open.id}/answer`, { ...settings, streams: true }, stop.signal));
    if (answer && !stop.signal.aborted) take(answer);
  } catch (e) { if (!stop.signal.aborted) refuse(e); }
}

function take(answer) {
  last = answer;
  refuse(answer.error ? new Error(answer.error) : null);
  list($('warnings'), answer.pour ? answer.pour.warnings : []);
  sheet.show(answer.sheet, settings.colours.map(c => c.name));
  glance(answer.sheet);
  const line = answer.line, typed = document.activeElement;
  if (line) {
    const wanted = settings.height_mm ?? line.asked_mm;
    view.part(line.back, wanted, line.delivered_mm);
    curve.mark(wanted, line.delivered_mm, text());
    if (typed !== $('height') && line.asked_mm !== null) $('height').value = +line.asked_mm.toFixed(4);
    knobSays(wanted);
  }
  if (typed !== $('share')) $('share').value = cell('line.asked_share') || settings.share;
  $('view').setAttribute('aria-label', `${open.bait} in two colours. ${text()}`);
  clearTimeout(take.say);
  take.say = setTimeout(() => { $('say').textContent = text(); }, 600);
}

// glance repeats some of the server's rows beside the bait, where the eye is.
const glanced = [/^line\.asked_share$/, /^line\.delivered_share$/, /^line\.split_area_mm2$/, /^bait\.mass_g$/, /^shot\.colours\.\d\.total_ml$/, /^heatings\.0\.colours\.\d\.plastisol_g$/];

function glance(groups) {
  const rows = groups.flatMap(g => g.rows.map(r => [g.title, r])), parts = [];
  for (const wanted of glanced) for (const [title, r] of rows.filter(([, r]) => wanted.test(r.key))) {
    const box = make('div'), dt = make('dt'), dd = make('dd', r.metric), n = settings.colours.findIndex(c => c.name === r.colour);
    if (n >= 0) dt.append(make('span', undefined, `chip c${n}`), `${r.colour}: `);
    dt.append(r.label + (title.startsWith('What one shot') ? ', a shot' : ''));
    if (r.us) dd.append(make('small', r.us));
    box.append(dt, dd); parts.push(box);
  }
  $('glance').replaceChildren(...parts);
}

const cell = key => { for (const g of last?.sheet || []) for (const r of g.rows) if (r.key === key) return r.metric; return ''; };

function text() {
  if (!last || !last.pour) return last?.error || '';
  if (!last.pour.line) return `A bait weighs ${cell('bait.mass_g')}.`;
  return `Wanted ${cell('line.asked_share')} belly to back, the barrels give ${cell('line.delivered_share')}. A bait weighs ${cell('bait.mass_g')}.`;
}

async function pullCurve() {
  const key = JSON.stringify([open.id, settings.tilt]);
  if (open.kind !== 'bait' || curveOf === key) return;
  curveOf = key;
  try {
    const points = await current(open, ask(`/api/work/${open.id}/curve`, settings.tilt));
    if (curveOf !== key || !points?.length) return;
    curve.show(points);
    if (last?.line) curve.mark(last.line.asked_mm, last.line.delivered_mm, text());
  } catch (e) { refuse(e); }
}

// pullTo moves the line to a height, a little inside of the bait.
function pullTo(h) {
  if (!last?.line) return;
  const { low_mm: low, high_mm: high } = last.line, edge = (high - low) * 1e-3;
  settings.height_mm = Math.max(low + edge, Math.min(high - edge, h));
  view.part(last.line.back, settings.height_mm, last.line.delivered_mm);
  curve.mark(settings.height_mm, last.line.delivered_mm, text());
  knobSays(settings.height_mm);
  change();
}

function knobSays(h) {
  const k = $('knob'), line = last.line;
  k.setAttribute('aria-valuemin', line.low_mm.toFixed(2)); k.setAttribute('aria-valuemax', line.high_mm.toFixed(2));
  if (h === null || h === undefined) return;
  k.setAttribute('aria-valuenow', h.toFixed(2));
  k.setAttribute('aria-valuetext', `${h.toFixed(2)} mm in the model, ${cell('line.asked_share')} belly to back`);
}

function placeKnob() {
  const k = $('knob'), stage = $('stage');
  if (k.hidden) return;
  const [x, y] = view.handle().at, edge = 26;
  k.style.left = `${Math.max(edge, Math.min(stage.clientWidth - edge, x))}px`;
  k.style.top = `${Math.max(edge, Math.min(stage.clientHeight - edge, y))}px`;
}

function knob() {
  const k = $('knob');
  let from = null;
  k.addEventListener('pointerdown', e => { from = { at: [e.clientX, e.clientY], h: now() }; k.setPointerCapture(e.pointerId); });
  k.addEventListener('pointermove', e => {
    if (!from) return;
    const { step } = view.handle(), long = Math.max(step[0] ** 2 + step[1] ** 2, (0.3 * view.scale()) ** 2);
    pullTo(from.h + ((e.clientX - from.at[0]) * step[0] + (e.clientY - from.at[1]) * step[1]) / long);
  });
  for (const end of ['pointerup', 'pointercancel']) k.addEventListener(end, () => { from = null; });
  k.addEventListener('keydown', e => {
    if (!last?.line) return;
    const { low_mm: low, high_mm: high } = last.line, step = (high - low) / 200;
    const to = { ArrowUp: now() + step, ArrowRight: now() + step, ArrowDown: now() - step, ArrowLeft: now() - step, PageUp: now() + 10 * step, PageDown: now() - 10 * step, Home: low, End: high }[e.key];
    if (to === undefined) return;
    e.preventDefault();
    pullTo(to);
  });
}

const now = () => settings.height_mm ?? last?.line?.asked_mm ?? 0;

async function openFiles(files) {
  if (!files.length) return;
  refuse(null); busy('on its way to the bench …', 0);
  try {
    const opened = await upload(files, part => busy(part < 1 ? 'on its way to the bench …' : 'measuring …', part < 1 ? part : undefined));
    busy(); await show(opened);
  } catch (e) { refuse(e); } finally { busy(); }
}

async function readAgain() {
  busy('measuring …'); refuse(null);
  try {
    await show(await ask(`/api/work/${open.id}/read`, { half: $('kind').value === 'half', unit: $('unit').value, back: $('back').value, nose: $('nose').value, mend: $('mend').checked }));
  } catch (e) { refuse(e); } finally { busy(); }
}

function listen() {
  const number = (id, set) => $(id).addEventListener('change', () => { set(Number($(id).value)); change(); });
  number('cavities', v => { settings.cavities = v; }); number('baits', v => { settings.baits = v; });
  for (const way of ['fore', 'side']) number(way, v => {
    settings.tilt = { ...settings.tilt, [way]: v };
    if (settings.height_mm !== null && last?.pour?.line) { settings.share = String(last.pour.line.asked_share); settings.height_mm = null; } // tilting keeps the share
  });
  $('share').addEventListener('change', () => { settings.share = $('share').value; settings.height_mm = null; change(); });
  $('height').addEventListener('change', () => { if ($('height').value !== '') { settings.height_mm = Number($('height').value); change(); } });
  $('vessel').addEventListener('change', () => { settings.vessel = $('vessel').value; change(); });
  $('injector').addEventListener('change', () => {
    settings.injector = $('injector').value;
    const barrels = barrelsOf(open.choices, settings.injector);
    settings.colours.forEach((c, n) => { if (!barrels.includes(c.barrel)) c.barrel = barrels[n] || barrels[0]; });
    if (settings.colours.length === 2 && settings.colours[0].barrel === settings.colours[1].barrel && barrels.length === 2) settings.colours[1].barrel = barrels.find(b => b !== settings.colours[0].barrel);
    colourFields($('colours'), open.choices, settings, change);
    change();
  });
  for (const b of document.querySelectorAll('[data-turn]')) b.addEventListener('click', () => view.turn(...b.dataset.turn.split(' ').map(Number)));
  for (const b of document.querySelectorAll('[data-view]')) b.addEventListener('click', () => view.look(b.dataset.view));
  for (const b of document.querySelectorAll('[data-zoom]')) b.addEventListener('click', () => view.near(Number(b.dataset.zoom)));
  for (const b of document.querySelectorAll('[data-save]')) b.addEventListener('click', async () => {
    try { $('say').textContent = `saved ${await save(`/api/work/${open.id}/save/${b.dataset.save}`, settings)}`; refuse(null); } catch (e) { refuse(e); }
  });
  $('reading').addEventListener('change', readAgain);
  $('reading').addEventListener('submit', e => e.preventDefault());
  $('files').addEventListener('change', () => { openFiles([...$('files').files]); $('files').value = ''; });
  const drag = e => { e.preventDefault(); document.body.classList.toggle('dropping', e.type === 'dragover'); };
  for (const type of ['dragover', 'dragleave', 'drop']) addEventListener(type, drag);
  addEventListener('drop', e => openFiles([...e.dataTransfer.files]));
  addEventListener('pagehide', () => { if (open) navigator.sendBeacon(`/api/work/${open.id}/close`); });
  addEventListener('pageshow', e => { if (e.persisted) location.reload(); });
  addEventListener('resize', placeKnob);
}

knob();
listen();
try { await show(await ask('/api/open')); } catch (e) { refuse(e); }
document.body.dataset.ready = 'yes';
