// Draws the curve of volume by height, and a mold half from above, as SVG.

const space = 'http://www.w3.org/2000/svg';

function make(name, attributes, text) {
  const e = document.createElementNS(space, name);
  for (const [k, v] of Object.entries(attributes || {})) e.setAttribute(k, v);
  if (text !== undefined) e.textContent = text;
  return e;
}

const wide = 560, tall = 300, left = 64, under = 44, over = 12, right = 14;

// Curve shows the share below each height; pulling on it moves the line.
export class Curve {
  constructor(box, pulled) {
    this.box = box;
    this.svg = make('svg', { viewBox: `0 0 ${wide} ${tall}`, role: 'img', 'aria-label': 'Share of the bait below each height' });
    box.replaceChildren(this.svg);
    let held = false;
    const pull = e => {
      const r = this.svg.getBoundingClientRect(), y = (e.clientY - r.top) / r.height * tall;
      const part = (tall - under - y) / (tall - under - over);
      pulled(this.low + Math.max(0, Math.min(1, part)) * (this.high - this.low));
    };
    this.svg.addEventListener('pointerdown', e => { if (!this.points) return; held = true; this.svg.setPointerCapture(e.pointerId); pull(e); });
    this.svg.addEventListener('pointermove', e => { if (held) pull(e); });
    for (const end of ['pointerup', 'pointercancel']) this.svg.addEventListener(end, () => { held = false; });
  }

  show(points) {
    this.points = points;
    this.low = points[0].height_mm; this.high = points[points.length - 1].height_mm;
    const x = share => left + share * (wide - left - right);
    this.y = h => tall - under - (h - this.low) / (this.high - this.low) * (tall - under - over);
    const parts = [make('path', { class: 'axis', d: `M${left} ${over}V${tall - under}H${wide - right}`, fill: 'none' })];
    for (let i = 0; i <= 4; i++) {
      const h = this.low + (this.high - this.low) * i / 4;
      parts.push(make('text', { class: 'tick', x: left - 8, y: this.y(h) + 5, 'text-anchor': 'end' }, h.toFixed(1)));
      parts.push(make('text', { class: 'tick', x: x(i / 4), y: tall - under + 18, 'text-anchor': i === 4 ? 'end' : 'middle' }, `${25 * i} %`));
    }
    parts.push(make('text', { class: 'tick', x: x(0.5), y: tall - 8, 'text-anchor': 'middle' }, 'share of the bait below; height in the model, mm'));
    parts.push(make('polyline', { class: 'below', points: points.map(p => `${x(p.share).toFixed(2)},${this.y(p.height_mm).toFixed(2)}`).join(' ') }));
    this.given = make('line', { class: 'given', x1: left, x2: wide - right });
    this.wanted = [0, 1].map(() => make('line', { class: 'wanted', x1: left, x2: wide - right }));
    this.svg.replaceChildren(...parts, this.given, ...this.wanted);
    this.mark([], null);
  }

  // mark shows the heights of the wanted lines, if they are level, and of the given one.
  mark(wanted, given, text) {
    if (!this.points) return;
    for (const [line, h] of [[this.wanted[0], wanted[0]], [this.wanted[1], wanted[1]], [this.given, given]]) {
      const there = h !== null && h !== undefined && h >= this.low && h <= this.high;
      line.setAttribute('visibility', there ? 'visible' : 'hidden');
      if (there) for (const end of ['y1', 'y2']) line.setAttribute(end, this.y(h));
    }
    this.svg.setAttribute('aria-label', 'Share of the bait below each height. ' + (text || ''));
  }
}

// drawHalf shows the block, its hollows shaded by depth, and where gates were cut.
export function drawHalf(box, opened) {
  const all = opened.outline.concat(...opened.views.flatMap(v => v.outlines));
  if (!all.length) { box.replaceChildren(); return; }
  const xs = all.map(p => p[0]), ys = all.map(p => p[1]);
  const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const edge = 0.03 * Math.max(x1 - x0, y1 - y0), px = (x1 - x0 + 2 * edge) / 620;
  const svg = make('svg', { viewBox: `${x0 - edge} ${-y1 - edge} ${x1 - x0 + 2 * edge} ${y1 - y0 + 2 * edge}`, role: 'img' });
  const path = loops => loops.map(l => 'M' + l.map(p => `${p[0]} ${-p[1]}`).join('L') + 'Z').join('');
  svg.setAttribute('aria-label', `The half from above: ${opened.views.length} hollows, listed in the table below.`);
  for (const v of opened.views) {
    const d = v.depths;
    if (d) svg.append(make('image', { href: d.png, x: d.min_mm[0], y: -d.min_mm[1] - d.size_mm[1], width: d.size_mm[0], height: d.size_mm[1], preserveAspectRatio: 'none' }));
  }
  const still = { 'vector-effect': 'non-scaling-stroke' };
  svg.append(make('path', { class: 'block', d: path([opened.outline]), ...still }));
  for (const v of opened.views) svg.append(make('path', { class: 'rim', d: path(v.outlines), ...still }));
  for (const h of opened.half.hollows) {
    for (const g of h.gates || []) {
      const [a, b] = g.ends_mm;
      svg.append(make('line', { class: 'necks', x1: a[0], y1: -a[1], x2: b[0], y2: -b[1], ...still }));
    }
    svg.append(make('text', { class: 'hollow-name', x: h.centre_mm[0], y: -h.centre_mm[1] + 5 * px, 'font-size': 16 * px, 'text-anchor': 'middle', ...still }, `${h.id} ${h.kind}`));
  }
  box.replaceChildren(svg);
}
