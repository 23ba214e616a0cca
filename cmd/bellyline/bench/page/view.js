// Draws the bait: two or three hatched colours parted by lines, a dashed line where
// the barrels put it, and what is broken lit. It draws and turns; it measures nothing.

import { heightAlong } from './sheets.js';

const vertexText = `#version 300 es
in vec3 place; in vec3 outward;
uniform mat3 turn; uniform vec2 scale; uniform vec3 back, ahead; uniform vec3 up[2]; uniform vec3 along[2]; uniform float size;
out vec3 facing; out vec2 height; out vec2 station; out float level; out float forward; out vec3 at;
void main() {
  vec3 p = turn * place;
  facing = turn * outward; at = p; level = dot(back, place); forward = dot(ahead, place);
  height = vec2(dot(up[0], place), dot(up[1], place)); station = vec2(dot(along[0], place), dot(along[1], place));
  gl_Position = vec4(p.xy * scale, -p.z * scale.y * 0.2, 1.0);
  gl_PointSize = size;
}`;

// mostDots is how many corners of lit facets are dotted; more would hide all else.
const mostDots = 3000;

// profilePlaces is how many places along a line its height is told to the card.
const profilePlaces = 512;

const fragmentText = `#version 300 es
precision highp float;
in vec3 facing; in vec2 height; in vec2 station; in float level; in float forward; in vec3 at;
uniform float given, dash; uniform int mode, lines;
uniform vec2 from, to; uniform sampler2D profile;
uniform vec3 belly, middle, back_, ink, lit; uniform float dot_;
out vec4 colour;
float wanted(int i) {
  float x = clamp((station[i] - from[i]) / max(to[i] - from[i], 1e-9), 0.0, 1.0) * float(${profilePlaces - 1});
  int k = int(x);
  return mix(texelFetch(profile, ivec2(k, i), 0).r, texelFetch(profile, ivec2(min(k + 1, ${profilePlaces - 1}), i), 0).r, x - float(k));
}
void main() {
  if (mode == 1) { colour = vec4(lit, 1.0); return; }
  vec3 n = facing;
  if (mode == 2 || dot(n, n) < 0.01) n = cross(dFdx(at), dFdy(at));
  n = normalize(n);
  float light = 0.62 + 0.45 * abs(dot(n, normalize(vec3(-0.3, 0.6, 0.75))));
  vec3 base = belly;
  vec2 over = vec2(-1.0);
  if (mode == 0 && lines > 0) {
    over.x = height.x - wanted(0);
    if (lines > 1) over.y = height.y - wanted(1);
    vec2 s = gl_FragCoord.xy / dot_;
    if (over.x < 0.0) {
      if (mod(s.x + s.y, 11.0) < 1.8) base = belly * 0.62;
    } else if (lines > 1 && over.y < 0.0) {
      base = mod(s.y, 8.0) < 2.2 ? middle * 0.5 : middle;
    } else {
      base = back_;
      vec2 cell = mod(s, 9.0) - 4.5;
      if (dot(cell, cell) < 3.2) base = mix(back_, vec3(1.0), 0.55);
    }
  }
  base *= light;
  vec2 width = min(fwidth(over), vec2(0.6 * dash)); float across = min(fwidth(level), 0.6 * dash); // at the rim of the bait they run off
  if (mode == 0 && abs(level - given) < 1.3 * dot_ * across && mod(forward, dash) < 0.6 * dash) base = ink;
  if (mode == 0 && lines > 0 && abs(over.x) < 1.6 * dot_ * width.x) base = ink;
  if (mode == 0 && lines > 1 && abs(over.y) < 1.6 * dot_ * width.y) base = ink;
  colour = vec4(base, 1.0);
}`;

const none = { up: [0, 0, 1], along: [0, 0, 0], knots: [[0, 0]] };

const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const unit = a => { const n = Math.hypot(...a) || 1; return a.map(x => x / n); };
const times = (a, k) => a.map(x => x * k);
const plus = (a, b) => a.map((x, i) => x + b[i]);

export class View {
  constructor(canvas, moved) {
    this.canvas = canvas;
    this.moved = moved; // called after each drawing
    this.gl = canvas.getContext('webgl2', { antialias: true, preserveDrawingBuffer: true });
    this.yaw = 0; this.pitch = 0; this.zoom = 1;
    this.frame = { nose: [1, 0, 0], back: [0, 0, 1] };
    this.sheets = []; this.given = 1e9;
    this.count = 0; this.wrong = 0; this.faulty = 0; this.radius = 1; this.flat = false;
    if (this.gl) this.prepare();
    new ResizeObserver(() => this.draw()).observe(canvas);
    canvas.addEventListener('webglcontextlost', e => e.preventDefault());
    canvas.addEventListener('webglcontextrestored', () => { this.prepare(); this.fresh = false; if (this.bytes) this.load(this.bytes); });
    matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => this.draw());
    this.listen();
  }

  get works() { return !!this.gl; }

  prepare() {
    const gl = this.gl, program = gl.createProgram();
    for (const [kind, text] of [[gl.VERTEX_SHADER, vertexText], [gl.FRAGMENT_SHADER, fragmentText]]) {
      const shader = gl.createShader(kind);
      gl.shaderSource(shader, text); gl.compileShader(shader);
      if (!gl.getShaderParameter(shader, gl.COMPILE_STATUS) && !gl.isContextLost()) throw new Error(gl.getShaderInfoLog(shader));
      gl.attachShader(program, shader);
    }
    gl.bindAttribLocation(program, 0, 'place'); gl.bindAttribLocation(program, 1, 'outward');
    gl.linkProgram(program); gl.useProgram(program);
    this.at = name => gl.getUniformLocation(program, name);
    this.profile = gl.createTexture();
    this.buffers = { place: gl.createBuffer(), outward: gl.createBuffer(), facets: gl.createBuffer(), wrong: gl.createBuffer(), faulty: gl.createBuffer() };
  }

  // load takes the server's numbers: counts, corners, normals, facets, lit edges.
  load(bytes) {
    this.bytes = bytes;
    const [corners, facets, wrong, faulty] = new Uint32Array(bytes, 0, 4);
    let at = 16;
    const take = (Kind, n) => { const list = new Kind(bytes, at, n); at += 4 * n; return list; };
    const place = take(Float32Array, 3 * corners), outward = take(Float32Array, 3 * corners);
    const index = take(Uint32Array, 3 * facets), edges = take(Float32Array, 6 * wrong), bad = take(Float32Array, 9 * faulty);
    let far = 0;
    for (let i = 0; i < place.length; i += 3) far = Math.max(far, Math.hypot(place[i], place[i + 1], place[i + 2]));
    this.radius = far || 1; this.count = index.length; this.wrong = 2 * wrong; this.faulty = 3 * faulty;
    if (!this.gl) return;
    const gl = this.gl, put = (target, buffer, data) => { gl.bindBuffer(target, buffer); gl.bufferData(target, data, gl.STATIC_DRAW); };
    put(gl.ARRAY_BUFFER, this.buffers.place, place); put(gl.ARRAY_BUFFER, this.buffers.outward, outward);
    put(gl.ARRAY_BUFFER, this.buffers.wrong, edges); put(gl.ARRAY_BUFFER, this.buffers.faulty, bad); put(gl.ELEMENT_ARRAY_BUFFER, this.buffers.facets, index);
    this.draw();
  }

  // orient says how the model lies: nose and back as they were given, its centre.
  orient(nose, back, centre, flat) {
    const up = unit(back), ahead = unit(plus(nose, times(up, -dot(nose, up))));
    this.frame = { nose: ahead, back: up, left: cross(up, ahead) };
    this.centre = centre; this.flat = flat;
    this.yaw = 0; this.pitch = flat ? 60 : 12; this.zoom = 1;
    this.draw();
  }

  // part sets the lines that were asked for and the height that barrels give, in the
  // model's own numbers; null: none.
  part(sheets, given) {
    const centre = this.centre || [0, 0, 0];
    this.sheets = sheets.slice(0, 2).map(s => ({ up: s.up, along: s.along, knots: s.knots.map(([x, h]) => [x - dot(s.along, centre), h - dot(s.up, centre)]) }));
    this.given = given === null || given === undefined ? 1e9 : given - dot(this.frame.back, centre);
    this.fresh = false;
    this.draw();
  }

  // axes are the screen's right, up and towards, as directions of the model.
  axes() {
    const f = this.frame, left = f.left || [0, 1, 0], radian = Math.PI / 180;
    const c = Math.cos(this.yaw * radian), s = Math.sin(this.yaw * radian);
    const right = plus(times(f.nose, -c), times(left, -s));
    const level = plus(times(left, c), times(f.nose, -s));
    const cp = Math.cos(this.pitch * radian), sp = Math.sin(this.pitch * radian);
    return [right, plus(times(f.back, cp), times(level, -sp)), plus(times(level, cp), times(f.back, sp))];
  }

  scale() {
    const w = this.canvas.clientWidth || 1, h = this.canvas.clientHeight || 1;
    return this.zoom * Math.min(w * 0.42, h * 0.9) / this.radius; // pixels to the mm
  }

  // project returns where a place relative to the centre lies on the canvas.
  project(p) {
    const [right, up] = this.axes(), k = this.scale();
    return [this.canvas.clientWidth / 2 + k * dot(right, p), this.canvas.clientHeight / 2 - k * dot(up, p)];
  }

  // spot is where a place of the model lies on the canvas.
  spot(p) { return this.project(plus(p, times(this.centre || [0, 0, 0], -1))); }

  // steps are how one mm ahead and one mm up go on the canvas.
  steps() {
    const [right, up] = this.axes(), k = this.scale(), f = this.frame;
    return { ahead: [k * dot(right, f.nose), -k * dot(up, f.nose)], up: [k * dot(right, f.back), -k * dot(up, f.back)] };
  }

  turn(yaw, pitch) {
    this.yaw += yaw; this.pitch = Math.max(-90, Math.min(90, this.pitch + pitch));
    this.draw();
  }

  look(from) {
    [this.yaw, this.pitch] = { side: [0, 0], top: [0, 90], belly: [0, -90], nose: [-90, 0] }[from];
    this.draw();
  }

  // face turns a place of the model towards the eye, and goes near.
  face(p) {
    const f = this.frame, d = plus(p, times(this.centre || [0, 0, 0], -1)), long = Math.hypot(...d);
    if (long > 1e-9) {
      const degree = 180 / Math.PI;
      this.pitch = Math.asin(Math.max(-1, Math.min(1, dot(d, f.back) / long))) * degree;
      this.yaw = Math.atan2(-dot(d, f.nose), dot(d, f.left || [0, 1, 0])) * degree;
    }
    this.zoom = Math.max(this.zoom, 3);
    this.draw();
  }

  near(k) { this.zoom = Math.max(0.4, Math.min(12, this.zoom * k)); this.draw(); }

  listen() {
    const c = this.canvas;
    let last = null;
    c.addEventListener('pointerdown', e => { last = [e.clientX, e.clientY]; c.setPointerCapture(e.pointerId); });
    c.addEventListener('pointermove', e => {
      if (!last) return;
      this.turn((e.clientX - last[0]) * 0.5, (e.clientY - last[1]) * 0.5);
      last = [e.clientX, e.clientY];
    });
    for (const end of ['pointerup', 'pointercancel']) c.addEventListener(end, () => { last = null; });
    c.addEventListener('wheel', e => { e.preventDefault(); this.near(e.deltaY < 0 ? 1.1 : 1 / 1.1); }, { passive: false });
  }

  draw() {
    if (this.waiting) return;
    this.waiting = requestAnimationFrame(() => { this.waiting = 0; this.paint(); this.moved(); });
  }

  // paintLines tells the card where the lines run: heights at many places along each.
  paintLines(gl) {
    const two = this.sheets.concat(this.sheets, [none, none]).slice(0, 2), flat = k => [...two[0][k], ...two[1][k]];
    gl.uniform1i(this.at('lines'), this.sheets.length);
    gl.uniform3fv(this.at('up'), flat('up')); gl.uniform3fv(this.at('along'), flat('along'));
    const ends = two.map(s => [s.knots[0][0], s.knots[s.knots.length - 1][0]]);
    gl.uniform2f(this.at('from'), ends[0][0], ends[1][0]); gl.uniform2f(this.at('to'), ends[0][1], ends[1][1]);
    gl.activeTexture(gl.TEXTURE0); gl.bindTexture(gl.TEXTURE_2D, this.profile); gl.uniform1i(this.at('profile'), 0);
    if (this.fresh) return;
    const heights = new Float32Array(2 * profilePlaces);
    two.forEach((s, i) => { for (let k = 0; k < profilePlaces; k++) heights[i * profilePlaces + k] = heightAlong(s.knots, ends[i][0] + (ends[i][1] - ends[i][0]) * k / (profilePlaces - 1)); });
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.R32F, profilePlaces, 2, 0, gl.RED, gl.FLOAT, heights);
    for (const way of [gl.TEXTURE_MIN_FILTER, gl.TEXTURE_MAG_FILTER]) gl.texParameteri(gl.TEXTURE_2D, way, gl.NEAREST);
    this.fresh = true;
  }

  paint() {
    const gl = this.gl, c = this.canvas;
    if (!gl || gl.isContextLost() || !this.count) return;
    const fine = Math.min(devicePixelRatio || 1, 2);
    c.width = Math.max(1, Math.round(c.clientWidth * fine)); c.height = Math.max(1, Math.round(c.clientHeight * fine));
    gl.viewport(0, 0, c.width, c.height);
    gl.clearColor(0, 0, 0, 0); gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT); gl.enable(gl.DEPTH_TEST);
    const [r, u, t] = this.axes(), k = this.scale(), style = getComputedStyle(document.documentElement);
    const tone = name => { const x = parseInt(style.getPropertyValue(name).trim().slice(1), 16); return [x >> 16, x >> 8 & 255, x & 255].map(v => v / 255); };
    gl.uniformMatrix3fv(this.at('turn'), false, [r[0], u[0], t[0], r[1], u[1], t[1], r[2], u[2], t[2]]);
    gl.uniform2f(this.at('scale'), 2 * k / c.clientWidth, 2 * k / c.clientHeight);
    gl.uniform3fv(this.at('back'), this.frame.back); gl.uniform3fv(this.at('ahead'), this.frame.nose);
    gl.uniform1f(this.at('given'), this.given); gl.uniform1f(this.at('size'), 6 * fine);
    this.paintLines(gl);
    gl.uniform1f(this.at('dash'), 14 / k); gl.uniform1f(this.at('dot_'), fine);
    gl.uniform3fv(this.at('belly'), tone('--belly')); gl.uniform3fv(this.at('middle'), tone('--middle')); gl.uniform3fv(this.at('back_'), tone('--back'));
    gl.uniform3fv(this.at('ink'), [0.05, 0.07, 0.06]); gl.uniform3fv(this.at('lit'), tone('--bad'));
    gl.uniform1i(this.at('mode'), this.flat ? 2 : 0);
    const use = (buffer, slot) => { gl.bindBuffer(gl.ARRAY_BUFFER, buffer); gl.enableVertexAttribArray(slot); gl.vertexAttribPointer(slot, 3, gl.FLOAT, false, 0, 0); };
    use(this.buffers.place, 0); use(this.buffers.outward, 1);
    gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, this.buffers.facets);
    gl.drawElements(gl.TRIANGLES, this.count, gl.UNSIGNED_INT, 0);
    if (!this.wrong && !this.faulty) return;
    gl.disable(gl.DEPTH_TEST); gl.disableVertexAttribArray(1); gl.uniform1i(this.at('mode'), 1);
    use(this.buffers.faulty, 0); gl.drawArrays(gl.TRIANGLES, 0, this.faulty);
    if (this.faulty <= mostDots) gl.drawArrays(gl.POINTS, 0, this.faulty); // those without area show as well
    use(this.buffers.wrong, 0); gl.drawArrays(gl.LINES, 0, this.wrong); gl.drawArrays(gl.POINTS, 0, this.wrong);
  }
}
