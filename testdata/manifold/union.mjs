// Unites the shells of a binary STL file with manifold-3d and prints as JSON what
// that gives. Usage: node union.mjs FOLDER FILE [OUT]
//
// FOLDER holds manifold.js and manifold.wasm. OUT is written as binary STL.
//
// Corners of an STL file are float32, and the library takes them as such without
// loss; it computes in float64. Having been told float32, it also takes edges below
// 1.2e-7 of the model's size for rounding and may drop them. setTolerance(0) on each
// shell lowers that to what float64 needs, 1e-12 of its size.
import {readFileSync, writeFileSync} from 'node:fs';
import {pathToFileURL} from 'node:url';
import {join} from 'node:path';

const [folder, file, out] = process.argv.slice(2);
const {default: load} = await import(pathToFileURL(join(folder, 'manifold.js')).href);
const library = await load();
library.setup();
const {Manifold, Mesh} = library;

/** The corners of the facets, nine numbers each. */
function readCorners(path) {
  const bytes = readFileSync(path);
  const count = bytes.readUInt32LE(80);
  if (bytes.length !== 84 + 50 * count) throw new Error(`${path} is no binary STL`);
  const corners = new Float32Array(9 * count);
  for (let f = 0; f < count; f++) {
    for (let k = 0; k < 9; k++) corners[9 * f + k] = bytes.readFloatLE(84 + 50 * f + 12 + 4 * k);
  }
  return corners;
}

/** Numbers equal corners alike: the number of each corner, and the points. */
function weld(corners) {
  const bits = new Uint32Array(corners.buffer);
  let size = 1;
  while (size < corners.length) size *= 2;
  const table = new Int32Array(size).fill(-1);
  const points = new Float32Array(corners.length);
  const number = new Uint32Array(corners.length / 3);
  let known = 0;
  for (let i = 0; i < number.length; i++) {
    for (let k = 0; k < 3; k++) corners[3 * i + k] += 0; // minus zero is zero
    const [x, y, z] = [bits[3 * i], bits[3 * i + 1], bits[3 * i + 2]];
    let slot = Math.imul(Math.imul(Math.imul(x, 73856093) ^ y, 19349663) ^ z, 83492791);
    slot = (slot ^ (slot >>> 15)) & (size - 1);
    for (;; slot = (slot + 1) & (size - 1)) {
      const at = table[slot];
      if (at < 0) {
        table[slot] = known;
        points.set(corners.subarray(3 * i, 3 * i + 3), 3 * known);
        number[i] = known++;
        break;
      }
      if (points[3 * at] === corners[3 * i] && points[3 * at + 1] === corners[3 * i + 1] &&
          points[3 * at + 2] === corners[3 * i + 2]) {
        number[i] = at;
        break;
      }
    }
  }
  return {number, points: points.subarray(0, 3 * known)};
}

/** The shells: meshes of facets that hang together by their corners. */
function shellsOf({number, points}) {
  const above = Uint32Array.from({length: points.length / 3}, (_, i) => i);
  const root = (i) => {
    while (above[i] !== i) i = above[i] = above[above[i]];
    return i;
  };
  for (let f = 0; f < number.length; f += 3) {
    above[root(number[f])] = root(number[f + 1]);
    above[root(number[f + 1])] = root(number[f + 2]);
  }
  const facets = new Map();
  for (let f = 0; f < number.length; f += 3) {
    const r = root(number[f]);
    if (!facets.has(r)) facets.set(r, []);
    facets.get(r).push(number[f], number[f + 1], number[f + 2]);
  }
  return [...facets.values()].map((list) => meshOf(list, points));
}

function meshOf(list, points) {
  const own = new Map();
  const vertProperties = [];
  const triVerts = list.map((v) => {
    if (!own.has(v)) {
      own.set(v, own.size);
      vertProperties.push(points[3 * v], points[3 * v + 1], points[3 * v + 2]);
    }
    return own.get(v);
  });
  return new Mesh({numProp: 3, vertProperties: Float32Array.from(vertProperties), triVerts: Uint32Array.from(triVerts)});
}

function writeSTL(path, mesh) {
  const bytes = Buffer.alloc(84 + 50 * mesh.numTri);
  bytes.writeUInt32LE(mesh.numTri, 80);
  for (let i = 0; i < 3 * mesh.numTri; i++) {
    const v = mesh.numProp * mesh.triVerts[i];
    const at = 84 + 50 * Math.floor(i / 3) + 12 + 12 * (i % 3);
    for (let k = 0; k < 3; k++) bytes.writeFloatLE(mesh.vertProperties[v + k], at + 4 * k);
  }
  writeFileSync(path, bytes);
}

const shells = shellsOf(weld(readCorners(file))).map((m) => new Manifold(m).setTolerance(0));
const whole = Manifold.union(shells);
const answer = {
  shells: shells.length,
  shell_triangles: shells.map((s) => s.numTri()),
  signed_mm3: shells.reduce((sum, s) => sum + s.volume(), 0),
  volume_mm3: whole.volume(),
  area_mm2: whole.surfaceArea(),
  triangles: whole.numTri(),
  tolerance_mm: whole.tolerance(),
  status: whole.status(),
};
if (out) writeSTL(out, whole.getMesh());
console.log(JSON.stringify(answer));
