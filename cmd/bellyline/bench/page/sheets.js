// Where lines lie, as drawn: places along the bait (nose), to its left and up (back),
// in the model's own numbers. What is measured comes from the server.

import { bench } from './state.js';

const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const unit = a => { const n = Math.hypot(...a) || 1; return a.map(x => x / n); };
const times = (a, k) => a.map(x => x * k);
const plus = (...all) => [0, 1, 2].map(i => all.reduce((s, a) => s + a[i], 0));
const slope = degrees => Math.tan(degrees * Math.PI / 180);

// frame is how the bait lies: nose made square to the back, and its left.
export function frame() {
  const back = unit(bench.open.back), nose = bench.open.nose;
  const ahead = unit(plus(nose, times(back, -dot(nose, back))));
  return { ahead, back, left: cross(back, ahead) };
}

export const middle = pair => (pair[0] + pair[1]) / 2;

// place is a point of the model from its three numbers.
export function place(x, y, h) {
  const f = frame();
  return plus(times(f.ahead, x), times(f.left, y), times(f.back, h));
}

// heightAlong is the height of a line's profile at a place along it.
export function heightAlong(knots, at) {
  for (let i = 1; i < knots.length; i++) {
    if (at >= knots[i][0]) continue;
    const [a, b] = [knots[i - 1], knots[i]];
    return at <= a[0] ? a[1] : a[1] + (b[1] - a[1]) * (at - a[0]) / (b[0] - a[0]);
  }
  return knots[knots.length - 1][1];
}

// heightAt is how high a sheet lies over a place; nothing where it stands upright.
export function heightAt(sheet, x, y) {
  const foot = place(x, y, 0), rise = dot(sheet.up, frame().back);
  if (Math.abs(rise) < 1e-6) return null;
  return (heightAlong(sheet.knots, dot(sheet.along, foot)) - dot(sheet.up, foot)) / rise;
}

const level = h => ({ up: frame().back, along: [0, 0, 0], knots: [[0, h]] });

// wantedSheets are the lines as they are asked for. While one is dragged the answer
// lags a little behind the hand, so that what needs no measuring is drawn at once.
export function wantedSheets() {
  const { settings, last, parts } = bench, l = settings.line, h = settings.height_mm;
  if (l.kind === 'layers') {
    const heights = parts?.split?.line.heights_mm ?? [];
    return [h ?? heights[0], l.upper_mm ?? heights[1]].filter(x => x !== undefined && x !== null).sort((a, b) => a - b).map(level);
  }
  if (h !== null) {
    const f = frame();
    if (l.kind === 'level') return [level(h)];
    if (l.kind === 'crosswise') return [{ up: f.ahead, along: [0, 0, 0], knots: [[0, h]] }];
    if (l.kind === 'tilted') {
      const fore = slope(l.tilt_deg), side = slope(l.roll_deg);
      return [{ up: plus(f.back, times(f.ahead, -fore), times(f.left, -side)), along: [0, 0, 0],
        knots: [[0, h - fore * middle(bench.open.long_mm) - side * middle(bench.open.wide_mm)]] }];
    }
    if (l.kind === 'drawn' && !l.smooth) return [{ up: f.back, along: f.ahead, knots: l.points_mm.map(p => [p[0], p[1] + h]) }];
  }
  return last?.line?.sheets ?? [];
}
