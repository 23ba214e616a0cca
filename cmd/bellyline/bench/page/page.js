// The page: what is open, what is asked for, and what goes where. Every question
// brings all settings; while one is under way the next waits, and only the last counts.

import { ask, bytes, save, upload } from './ask.js';
import { Curve } from './draw.js';
import { barrelsOf, colourFields, options } from './fields.js';
import { Handles, inside } from './handles.js';
import { LineForm, coloursOf, kindOf } from './line.js';
import { drawHalfPart, drawModel } from './model.js';
import { Sheet, list, make, rowsTable } from './sheet.js';
import { wantedSheets } from './sheets.js';
import { bench, $, cell, look } from './state.js';
import { View } from './view.js';

let waiting = false, again = false, curveOf = '';

const view = new View($('view'), () => { handles.place(); ring(); });
const mark = $('mark');
let marked = null;
const handles = new Handles($('stage'), view, pulled);
const form = new LineForm(reshaped);
const curve = new Curve($('curve'), h => { if (bench.last?.line && ['level', 'layers'].includes(bench.settings.line.kind)) { bench.settings.height_mm = inside(h); pulled(); } });
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
    return bench.open === work ? answer : undefined;
  } catch (e) { if (bench.open === work) throw e; }
}

// show puts up what was opened, in place of what was there.
async function show(opened) {
  if (opened.kind === 'none') return;
  if (bench.open) navigator.sendBeacon(`/api/work/${bench.open.id}/close`);
  // What was asked of the work before has no place here.
  again = false; clearTimeout(resting); clearTimeout(parting); stopRest.abort();
  Object.assign(bench, { open: opened, settings: opened.settings, last: null, parts: null }); curveOf = '';
  const { settings } = bench, solid = opened.kind === 'bait', pours = solid || opened.kind === 'weighed', two = settings.colours.length === 2, drawn = opened.drawn > 0;
  document.title = `${opened.bait}: bench`;
  $('title').textContent = opened.bait; $('subtitle').textContent = opened.name;
  list($('care').querySelector('ul'), opened.cautions); $('care').hidden = false;
  list($('notes'), opened.notes); $('notes').hidden = !opened.notes.length;
  $('stage-part').hidden = !drawn; $('half-part').hidden = opened.kind !== 'half'; $('curve-part').hidden = !solid;
  $('model-part').hidden = !opened.measured && !opened.half;
  $('cavities').disabled = opened.fixed;
  $('work').hidden = !pours;
  $('line-part').hidden = !two; $('knob-help').hidden = !(two && solid);
  $('glance').replaceChildren(); $('parts').hidden = true;
  drawModel(turnTo); mark.hidden = true; if (pours) fields();
  if (drawn) {
    $('no-view').hidden = view.works;
    view.orient(opened.nose, opened.back, opened.centre, opened.kind === 'half');
    view.part([], null);
    const shape = await current(opened, bytes(`/api/work/${opened.id}/shape`));
    if (!shape) return;
    view.load(shape);
    if (!solid) $('view').setAttribute('aria-label', opened.kind === 'half' ? 'The mold half' : `The model; what is broken is lit, and listed under The model`);
  }
  if (opened.kind === 'half') drawHalfPart();
  handles.show(); legend();
  if (pours) await change();
}

// turnTo turns the bait so that a place faces the eye, and rings it.
function turnTo(place, says) {
  marked = place; mark.hidden = false;
  view.face(place); ring();
  $('say').textContent = `turned to ${says}`;
  $('stage').scrollIntoView({ block: 'nearest' });
}

function ring() {
  if (mark.hidden || !marked) return;
  const [x, y] = view.spot(marked);
  mark.style.left = `${x}px`; mark.style.top = `${y}px`;
}

function legend() {
  const { open, settings } = bench, parts = [], solid = open.kind === 'bait';
  const item = (mark, text) => { const s = make('span'); s.append(make('span', undefined, mark), text); parts.push(s); };
  if (settings.colours.length > 1 && settings.colours.length < 4 && solid) {
    const names = coloursOf(), how = ['striped', 'dotted', 'barred'], looks = n => look(n, names.length);
    names.forEach((c, n) => item(`chip c${looks(n)}`, `${c}, ${how[looks(n)]}`));
    item('mark', names.length === 3 ? 'lines as wanted' : 'line as wanted');
    if (names.length < 3) item('mark dashed', 'line as the barrels put it');
  }
  if (open.wrong) parts.push(make('span', `${open.wrong} broken edges are lit`));
  if (open.faulty) parts.push(make('span', `${open.faulty} facets at fault are lit`));
  if (open.measured && open.drawn < open.measured.triangles) parts.push(make('span', `shown thinned to ${open.drawn} of ${open.measured.triangles} facets; measured whole`));
  $('legend').replaceChildren(...parts);
}

function fields() {
  const { open, settings } = bench;
  options($('injector'), open.choices.injectors.map(i => i.name), settings.injector);
  options($('vessel'), open.choices.vessels, settings.vessel);
  $('cavities').value = settings.cavities; $('baits').value = settings.baits || '';
  for (const b of document.querySelectorAll('[data-save]')) b.hidden = b.dataset.save === 'shop' && !open.starter;
  for (const id of ['share', 'height', 'upper', 'upper-share']) $(id).value = '';
  if (settings.colours.length === 2) form.show();
  offers();
  colourFields($('colours'), open.choices, settings, change);
}

// offers shows those files to save that there can be of the line.
function offers() {
  const { open, settings } = bench, parts = settings.colours.length === 2 && open.kind === 'bait', three = parts && kindOf(settings.line) === 'layers';
  const names = parts ? coloursOf() : [], shown = { belly: parts, back: parts, middle: three, line: parts, card: !three, mold: !three };
  for (const b of document.querySelectorAll('[data-save]')) if (b.dataset.save in shown) b.hidden = !shown[b.dataset.save];
  for (const [what, name] of [['belly', names[0]], ['middle', names[1]], ['back', names[names.length - 1]]]) document.querySelector(`[data-save=${what}]`).textContent = `Save ${name ?? what} body`;
}

// reshaped is called when a field of the line was changed.
function reshaped() {
  if (kindOf(bench.settings.line) === 'drawn') view.look('side'); // points are drawn seen from the side
  offers(); legend();
  pulled();
}

// pulled draws the line where it was pulled to, and asks what that gives.
function pulled() {
  form.fill(); handles.show();
  put();
  change();
}

// put draws the lines that are wanted and the one that barrels give.
function put() {
  const { last, settings, parts } = bench;
  view.part(wantedSheets(), last?.line?.delivered_mm ?? null);
  const flat = settings.line.kind === 'level' ? [settings.height_mm ?? last?.line?.asked_mm] : settings.line.kind === 'layers' ? [settings.height_mm ?? parts?.split?.line.heights_mm[0], settings.line.upper_mm ?? parts?.split?.line.heights_mm[1]] : [];
  curve.mark(flat, last?.line?.delivered_mm, text());
}

// change asks for the answer to the settings as they are when the server is free.
async function change() {
  again = true;
  clearTimeout(resting); clearTimeout(parting); stopRest.abort();
  $('parts').setAttribute('aria-busy', 'true');
  if (waiting) return;
  waiting = true;
  $('numbers').setAttribute('aria-busy', 'true');
  const late = setTimeout(() => { $('numbers').classList.add('stale'); busy('working it out …'); }, 300);
  try {
    while (again) {
      again = false;
      const { open, settings } = bench, asked = JSON.stringify(settings);
      try {
        const answer = await current(open, ask(`/api/work/${open.id}/answer`, settings));
        if (!answer) continue;
        take(answer);
        if (settings.line.kind === 'layers') await part(asked);
      } catch (e) { refuse(e); }
    }
  } finally { waiting = false; clearTimeout(late); $('numbers').classList.remove('stale'); $('numbers').setAttribute('aria-busy', 'false'); busy(); }
  pullCurve();
  const { last, settings } = bench;
  if (!last?.line) { $('parts').setAttribute('aria-busy', 'false'); return; }
  if (settings.colours.length !== 2) $('parts').setAttribute('aria-busy', 'false');
  else if (settings.line.kind !== 'layers') parting = setTimeout(() => part(JSON.stringify(bench.settings)), 150);
  if (last.pour) resting = setTimeout(rest, 900);
}

// part asks what the line as drawn gives to each colour of one bait.
let parting = 0;

async function part(asked) {
  const { open, settings } = bench;
  try {
    const parts = await current(open, ask(`/api/work/${open.id}/split`, JSON.parse(asked)));
    if (!parts || asked !== JSON.stringify(bench.settings) && settings.line.kind !== 'layers') return;
    bench.parts = parts.split ? parts : null;
    $('parts').hidden = !parts.split;
    if (parts.split) $('parts').replaceChildren(make('h3', 'As drawn, in one bait'), rowsTable(parts.rows, parts.split.colours.map(c => c.name), n => look(n, parts.split.colours.length)));
    if (settings.line.kind === 'layers') refuse(parts.error ? new Error(parts.error) : null);
    form.fill(); handles.show(); put();
    $('parts').setAttribute('aria-busy', asked === JSON.stringify(bench.settings) ? 'false' : 'true');
  } catch (e) { refuse(e); }
}

// rest asks, once the line rests, where two streams put it: that takes a while.
let resting = 0, stopRest = new AbortController();

async function rest() {
  const stop = stopRest = new AbortController(), { open, settings } = bench;
  try {
    const answer = await current(open, ask(`/api/work/${open.id}/answer`, { ...settings, streams: true }, stop.signal));
    if (answer && !stop.signal.aborted) take(answer);
  } catch (e) { if (!stop.signal.aborted) refuse(e); }
}

function take(answer) {
  const { open, settings } = bench;
  bench.last = answer;
  if (settings.line.kind !== 'layers' || answer.error) refuse(answer.error ? new Error(answer.error) : null);
  $('line-note').textContent = answer.note; $('line-note').hidden = !answer.note;
  for (const id of ['numbers', 'changes']) $(id).hidden = !!answer.note;
  list($('warnings'), answer.pour ? answer.pour.warnings : []);
  sheet.show(answer.sheet, settings.colours.map(c => c.name));
  glance(answer.sheet);
  if (settings.colours.length === 2) form.fill();
  if (answer.line) { handles.show(); put(); }
  $('view').setAttribute('aria-label', `${open.bait}. ${text()}`);
  clearTimeout(take.say);
  take.say = setTimeout(() => { $('say').textContent = text(); }, 600);
}

// glance repeats some of the server's rows beside the bait, where the eye is.
const glanced = [/^line\.asked_share$/, /^line\.delivered_share$/, /^line\.split_area_mm2$/, /^bait\.mass_g$/, /^shot\.colours\.\d\.total_ml$/, /^heatings\.0\.colours\.\d\.plastisol_g$/];

function glance(groups) {
  const rows = groups.flatMap(g => g.rows.map(r => [g.title, r])), parts = [];
  for (const wanted of glanced) for (const [title, r] of rows.filter(([, r]) => wanted.test(r.key))) {
    const box = make('div'), dt = make('dt'), dd = make('dd', r.metric), n = bench.settings.colours.findIndex(c => c.name === r.colour);
    if (n >= 0) dt.append(make('span', undefined, `chip c${look(n)}`), `${r.colour}: `);
    dt.append(r.label + (title.startsWith('What one shot') ? ', a shot' : ''));
    if (r.us) dd.append(make('small', r.us));
    box.append(dt, dd); parts.push(box);
  }
  $('glance').replaceChildren(...parts);
}

function text() {
  const { last, parts, settings } = bench;
  if (settings.line.kind === 'layers') return parts?.split ? `Three colours: ${parts.split.colours.map(c => `${c.name} ${(c.share * 100).toFixed(1)} %`).join(', ')}.` : '';
  if (!last || !last.pour) return last?.error || '';
  if (!last.pour.line) return `A bait weighs ${cell('bait.mass_g')}.`;
  if (settings.colours.length > 2) return last.sheet.flatMap(g => g.rows).filter(r => /^line\.layers\.\d\.delivered_share$/.test(r.key)).map(r => `${r.label} ${r.metric}`).join('; ') + `. A bait weighs ${cell('bait.mass_g')}.`;
  return `Wanted ${cell('line.asked_share')} belly to back, the barrels give ${cell('line.delivered_share')}. A bait weighs ${cell('bait.mass_g')}.`;
}

async function pullCurve() {
  const { open } = bench;
  if (open.kind !== 'bait' || curveOf === open.id) return;
  curveOf = open.id;
  try {
    const points = await current(open, ask(`/api/work/${open.id}/curve`));
    if (curveOf !== open.id || !points?.length) return;
    curve.show(points);
    if (bench.last?.line) put();
  } catch (e) { refuse(e); }
}

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
    await show(await ask(`/api/work/${bench.open.id}/read`, { half: $('kind').value === 'half', unit: $('unit').value, back: $('back').value, nose: $('nose').value, mend: $('mend').checked }));
  } catch (e) { refuse(e); } finally { busy(); }
}

function listen() {
  const number = (id, set) => $(id).addEventListener('change', () => { set(Number($(id).value)); change(); });
  number('cavities', v => { bench.settings.cavities = v; }); number('baits', v => { bench.settings.baits = v; });
  $('vessel').addEventListener('change', () => { bench.settings.vessel = $('vessel').value; change(); });
  $('injector').addEventListener('change', () => {
    const { open, settings } = bench;
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
    try { $('say').textContent = `saved ${await save(`/api/work/${bench.open.id}/save/${b.dataset.save}`, bench.settings)}`; refuse(null); } catch (e) { refuse(e); }
  });
  $('reading').addEventListener('change', readAgain);
  $('reading').addEventListener('submit', e => e.preventDefault());
  $('files').addEventListener('change', () => { openFiles([...$('files').files]); $('files').value = ''; });
  const drag = e => { e.preventDefault(); document.body.classList.toggle('dropping', e.type === 'dragover'); };
  for (const type of ['dragover', 'dragleave', 'drop']) addEventListener(type, drag);
  addEventListener('drop', e => openFiles([...e.dataTransfer.files]));
  addEventListener('pagehide', () => { if (bench.open) navigator.sendBeacon(`/api/work/${bench.open.id}/close`); });
  addEventListener('pageshow', e => { if (e.persisted) location.reload(); });
  addEventListener('resize', () => handles.place());
}

listen();
try { await show(await ask('/api/open')); } catch (e) { refuse(e); }
document.body.dataset.ready = 'yes';
