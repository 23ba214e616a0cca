// The handles on the picture by which a line is pulled: one for the line, one that
// tilts it, one for a second line, and the points of a drawn one. Each can be
// dragged, and moved by keys.

import { make } from './sheet.js';
import { bench, $, cell } from './state.js';
import { heightAlong, heightAt, middle, place, wantedSheets } from './sheets.js';

const far = 0.06;   // of the bait's length: how far off its ends the handles stand
const mostPoints = 40; // that get a handle of their own; all can be typed
const few = 200;    // key presses from the lowest point of the bait to the highest

// Handles puts the handles up over a view; pulled is called when the line was moved.
export class Handles {
  constructor(stage, view, pulled) {
    Object.assign(this, { stage, view, pulled, list: [], form: '' });
    stage.addEventListener('dblclick', e => this.addAt(e));
  }

  // show makes the handles that the line has; the same ones stay as they are.
  show() {
    const { settings, open } = bench, two = settings.colours.length === 2 && open.kind === 'bait';
    const wanted = two ? handlesOf(settings.line) : [], form = JSON.stringify(wanted.map(h => h.id));
    if (form !== this.form) {
      this.form = form;
      for (const h of this.list) h.element.remove();
      this.list = wanted.map(h => ({ ...h, element: this.element(h) }));
      this.stage.append(...this.list.map(h => h.element));
    }
    this.place();
    this.say();
  }

  element(h) {
    const e = make('div', undefined, `handle ${h.look}`), sign = make('span', h.sign);
    e.id = h.id; e.tabIndex = 0; sign.setAttribute('aria-hidden', 'true'); e.append(sign);
    for (const [k, v] of [['role', 'slider'], ['aria-label', h.label], ['aria-orientation', h.free === 'x' ? 'horizontal' : 'vertical'], ['aria-describedby', 'knob-help']]) e.setAttribute(k, v);
    let held = null;
    e.addEventListener('pointerdown', p => { held = { at: [p.clientX, p.clientY], from: h.take() }; e.setPointerCapture(p.pointerId); });
    e.addEventListener('pointermove', p => { if (held) { const [x, up] = this.moved(h.free, p.clientX - held.at[0], p.clientY - held.at[1]); this.pull(() => h.move(held.from, x, up)); } });
    for (const end of ['pointerup', 'pointercancel']) e.addEventListener(end, () => { held = null; });
    e.addEventListener('keydown', k => this.key(h, k));
    return e;
  }

  pull(change) {
    if (!bench.last?.line) return;
    change();
    this.pulled();
  }

  // moved turns a way on the screen into mm along the bait and mm up.
  moved(free, dx, dy) {
    const { ahead, up } = this.view.steps(), least = (0.3 * this.view.scale()) ** 2;
    const on = s => (dx * s[0] + dy * s[1]) / Math.max(s[0] ** 2 + s[1] ** 2, least);
    const turn = ahead[0] * up[1] - ahead[1] * up[0];
    if (free === 'h') return [0, on(up)];
    if (free === 'x') return [on(ahead), 0];
    if (Math.abs(turn) < least) return [on(ahead), on(up)];
    return [(dx * up[1] - dy * up[0]) / turn, (ahead[0] * dy - ahead[1] * dx) / turn];
  }

  key(h, k) {
    if (!bench.last?.line) return;
    const { low_mm: low, high_mm: high } = bench.last.line, step = (high - low) / few;
    const left = Math.sign(-this.view.steps().ahead[0]) || 1; // an arrow to the left goes left on the screen
    let x = 0, up = 0;
    switch (k.key) {
      case 'ArrowUp': up = step; break;
      case 'ArrowDown': up = -step; break;
      case 'PageUp': up = 10 * step; break;
      case 'PageDown': up = -10 * step; break;
      case 'ArrowLeft': x = left * step; break;
      case 'ArrowRight': x = -left * step; break;
      default: if (h.key?.(k.key, this)) { k.preventDefault(); } return;
    }
    k.preventDefault();
    if (h.free === 'h' && x !== 0) { up = k.key === 'ArrowRight' ? step : -step; x = 0; }
    if (h.free === 'x' && up !== 0) { x = up; up = 0; }
    this.pull(() => h.move(h.take(), x, up));
  }

  // addAt adds a point where the picture of a drawn line was clicked twice.
  addAt(e) {
    if (bench.settings?.line.kind !== 'drawn' || !bench.last?.line) return;
    const box = this.stage.getBoundingClientRect(), foot = this.view.spot(place(0, middle(bench.open.wide_mm), 0));
    const [x, h] = this.moved('xh', e.clientX - box.left - foot[0], e.clientY - box.top - foot[1]);
    settle();
    this.pull(() => addPoint(x, h));
  }

  focus(id) { this.show(); $(id)?.focus(); }

  place() {
    const edge = 26, { clientWidth: wide, clientHeight: tall } = this.stage;
    for (const h of this.list) {
      const p = h.where();
      if (!p || !p.every(Number.isFinite)) { h.element.hidden = true; continue; }
      const [x, y] = this.view.spot(place(...p));
      h.element.hidden = false;
      h.element.style.left = `${Math.max(edge, Math.min(wide - edge, x))}px`;
      h.element.style.top = `${Math.max(edge, Math.min(tall - edge, y))}px`;
    }
  }

  // say tells a screen reader where the handles stand.
  say() {
    const line = bench.last?.line;
    if (!line) return;
    for (const { element, value, text, range } of this.list) {
      const v = value();
      if (v === null || v === undefined || !Number.isFinite(v)) continue;
      const [least, most] = range ? range() : [line.low_mm, line.high_mm];
      element.setAttribute('aria-valuemin', least.toFixed(2)); element.setAttribute('aria-valuemax', most.toFixed(2));
      element.setAttribute('aria-valuenow', v.toFixed(2)); element.setAttribute('aria-valuetext', text(v));
    }
  }
}

const nose = () => { const [a, b] = bench.open.long_mm; return b + far * (b - a); };
const tail = () => { const [a, b] = bench.open.long_mm; return a - far * (b - a); };
const mid = () => middle(bench.open.wide_mm);

// now is the place of the line: as asked for, or where its share put it.
export const now = () => bench.settings.height_mm ?? bench.last?.line?.asked_mm ?? bench.parts?.split?.line.heights_mm[0] ?? 0;

// inside keeps a height a little inside of the bait.
export function inside(h) {
  const { low_mm: low, high_mm: high } = bench.last.line, edge = (high - low) * 1e-3;
  return Math.max(low + edge, Math.min(high - edge, h));
}

const shares = () => cell('line.asked_share') || 'share not known yet';

function handlesOf(l) {
  switch (l.kind) {
    case 'crosswise': return [lineHandle({ free: 'x', sign: '↔', label: 'Colour line, along the bait', where: () => [now(), mid(), bench.last?.line?.high_mm],
      move: (from, x) => { const [a, b] = bench.open.long_mm; bench.settings.height_mm = Math.max(a + 1e-3 * (b - a), Math.min(b - 1e-3 * (b - a), from + x)); },
      range: () => bench.open.long_mm, text: v => `${v.toFixed(2)} mm along the bait, ${shares()} tail to head`, key: undefined })];
    case 'stripe': return [lineHandle({ label: 'Floor of the stripe', where: () => [nose(), l.across_mm, now()], text: v => `${v.toFixed(2)} mm in the model, ${shares()}` })];
    case 'layers': return [lineHandle({ label: 'Lower line', text: v => `${v.toFixed(2)} mm in the model` }), upperHandle()];
    case 'drawn': return [raiseHandle(), ...bench.settings.line.points_mm.slice(0, mostPoints).map((_, i) => pointHandle(i))];
  }
  return [lineHandle({}), tiltHandle()];
}

// lineHandle moves the line as a whole, at the nose.
function lineHandle(own) {
  return {
    id: 'knob', look: 'round', sign: '↕', free: 'h', label: 'Colour line',
    where: () => { const s = wantedSheets()[0]; return s && [nose(), mid(), heightAt(s, nose(), mid())]; },
    take: now, move: (from, x, up) => { bench.settings.height_mm = inside(from + up); },
    value: now, text: v => `${v.toFixed(2)} mm in the model, ${shares()} belly to back`,
    key: (key, all) => {
      const to = { Home: bench.last.line.low_mm, End: bench.last.line.high_mm }[key];
      if (to !== undefined) all.pull(() => { bench.settings.height_mm = inside(to); });
      return to !== undefined;
    },
    ...own,
  };
}

// tiltHandle lifts the line at the tail while it stays at the nose.
function tiltHandle() {
  const ends = () => { const s = wantedSheets()[0]; return s ? bench.open.long_mm.map(x => heightAt(s, x, mid())) : [0, 0]; };
  const set = (low, high) => {
    const [a, b] = bench.open.long_mm, most = 60;
    const tilt = Math.max(-most, Math.min(most, Math.atan2(high - low, b - a) * 180 / Math.PI));
    const l = bench.settings.line;
    l.tilt_deg = +tilt.toFixed(3); l.kind = l.tilt_deg || l.roll_deg ? 'tilted' : 'level';
    bench.settings.height_mm = inside(high - Math.tan(l.tilt_deg * Math.PI / 180) * (b - a) / 2);
  };
  return {
    id: 'tilt-knob', look: 'round small', sign: '⤢', free: 'h', label: 'Tilt of the colour line, at the tail',
    where: () => { const s = wantedSheets()[0]; return s && [tail(), mid(), heightAt(s, tail(), mid())]; },
    take: ends, move: ([low, high], x, up) => set(low + up, high),
    value: () => bench.settings.line.kind === 'tilted' ? bench.settings.line.tilt_deg : 0, range: () => [-60, 60],
    text: v => v ? `${v > 0 ? 'rises' : 'falls'} ${Math.abs(v).toFixed(1)} degrees to the nose` : 'level',
    key: (key, all) => { if (key !== 'Home') return false; const [, high] = ends(); all.pull(() => set(high, high)); return true; },
  };
}

function upperHandle() {
  const at = () => bench.settings.line.upper_mm ?? bench.parts?.split?.line.heights_mm[1] ?? 0;
  return {
    id: 'upper-knob', look: 'round', sign: '↕', free: 'h', label: 'Upper line', where: () => [tail(), mid(), at()],
    take: at, move: (from, x, up) => { bench.settings.line.upper_mm = inside(from + up); }, value: at, text: v => `${v.toFixed(2)} mm in the model`,
  };
}

// raiseHandle moves a drawn line up or down as a whole.
function raiseHandle() {
  return lineHandle({
    label: 'The whole drawn line', where: () => { // off the points
      const s = wantedSheets()[0], { low_mm: low, high_mm: high } = bench.last?.line ?? {};
      return s && low !== undefined && [nose(), mid(), heightAt(s, nose(), mid()) + 0.45 * (high - low)];
    },
    take: () => { settle(); return bench.settings.line.points_mm.map(p => [...p]); },
    move: (from, x, up) => { bench.settings.line.points_mm = from.map(([at, h]) => [at, h + up]); },
    value: () => { const s = wantedSheets()[0]; return s ? heightAt(s, middle(bench.open.long_mm), mid()) : null; }, key: undefined,
  });
}

function pointHandle(i) {
  const name = () => `Point ${i + 1} of ${bench.settings.line.points_mm.length}`;
  return {
    id: `point-${i}`, look: 'point', sign: `${i + 1}`, free: 'xh', label: `Point ${i + 1} of the drawn line`,
    where: () => { const p = bench.settings.line.points_mm[i]; return p && [p[0], mid(), p[1] + raised()]; },
    take: () => { settle(); return [...bench.settings.line.points_mm[i]]; },
    move: (from, x, up) => setPoint(i, from[0] + x, from[1] + up),
    value: () => bench.settings.line.points_mm[i]?.[1] + raised(),
    text: v => `${name()}: ${bench.settings.line.points_mm[i]?.[0].toFixed(1)} mm along, ${v.toFixed(2)} mm high`,
    key: (key, all) => {
      const points = bench.settings.line.points_mm;
      if (key === 'Delete' || key === 'Backspace') { if (points.length > 2) { settle(); all.pull(() => removePoint(i)); all.focus(`point-${Math.min(i, points.length - 2)}`); } return true; }
      if (key !== 'Insert' && key !== '+') return false;
      const j = Math.min(i, points.length - 2);
      settle(); all.pull(() => addPoint((points[j][0] + points[j + 1][0]) / 2)); all.focus(`point-${j + 1}`);
      return true;
    },
  };
}

// raised is how far a drawn line lies over its points: its share may have moved it.
function raised() {
  const { settings, last } = bench, points = settings.line.points_mm, knots = last?.line?.sheets[0]?.knots;
  return settings.height_mm ?? (knots && points.length ? knots[0][1] - points[0][1] : 0);
}

// settle puts the points of a drawn line where the line lies.
export function settle() {
  const { settings } = bench, by = raised();
  if (settings.height_mm === 0) return;
  settings.line.points_mm = settings.line.points_mm.map(([x, h]) => [x, h + by]);
  settings.height_mm = 0;
}

const least = () => { const [a, b] = bench.open.long_mm; return 1e-3 * (b - a); };

export function setPoint(i, x, h) {
  const points = bench.settings.line.points_mm, [a, b] = bench.open.long_mm, reach = b - a;
  const from = i > 0 ? points[i - 1][0] + least() : a - reach / 4, to = i < points.length - 1 ? points[i + 1][0] - least() : b + reach / 4;
  points[i] = [Math.max(from, Math.min(to, x)), h];
}

// addPoint adds a point on the line, or at a height of its own, unless one is there.
export function addPoint(x, h) {
  const points = bench.settings.line.points_mm;
  if (points.some(p => Math.abs(p[0] - x) < 2 * least())) return;
  points.push([x, h ?? heightAlong(points, x)]);
  points.sort((p, q) => p[0] - q[0]);
}

export function removePoint(i) {
  if (bench.settings.line.points_mm.length > 2) bench.settings.line.points_mm.splice(i, 1);
}
