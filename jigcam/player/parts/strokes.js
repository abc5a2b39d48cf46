"use strict";
// Strokes: where the tip of the bit goes, as columns of numbers. Lengths in mm, angles in rad, z up, 0 on the face.
// Every part of this script is one of these in turn: strokes, clock, paint, sums, views, front, words,
// list, player.

const RAPID = "0", CUT = "1";
const TICKS = 10000; // in a second: in these a film says how long each stroke takes

/** What seldom changes, spelled out: a value for each of `count` places. */
function spread(runs, count, make) {
  const out = make(count);
  for (let k = 0; k < runs.length; k++) {
    const end = k + 1 < runs.length ? runs[k + 1][0] : count;
    out.fill(runs[k][1], runs[k][0], end);
  }
  return out;
}

/** The strokes of a film: ends, centres, times. `time[k]` is when stroke k has its turn, s; `time[n]` when all is done;
 * `wait[k]`: how long it waits then, as for another bit. */
function readStrokes(film) {
  const raw = film.strokes, n = raw.x.length;
  const s = {
    n,
    x0: new Float64Array(n), y0: new Float64Array(n), z0: new Float64Array(n),
    x1: Float64Array.from(raw.x), y1: Float64Array.from(raw.y), z1: Float64Array.from(raw.z),
    cx: new Float64Array(n).fill(NaN), cy: new Float64Array(n), sweep: new Float64Array(n),
    radius: new Float64Array(n), first: new Float64Array(n),
    line: spread(raw.line, n, (k) => new Int32Array(k)),
    tool: spread(raw.tool, n, (k) => new Int32Array(k)),
    way: raw.way,
    time: new Float64Array(n + 1), wait: new Float64Array(n),
  };
  s.x0.set(s.x1.subarray(0, Math.max(0, n - 1)), 1 % Math.max(1, n));
  s.y0.set(s.y1.subarray(0, Math.max(0, n - 1)), 1 % Math.max(1, n));
  s.z0.set(s.z1.subarray(0, Math.max(0, n - 1)), 1 % Math.max(1, n));
  for (const [k, x, y, z] of raw.starts) {
    s.x0[k] = x; s.y0[k] = y; s.z0[k] = z;
  }
  for (const [k, cx, cy, sweep] of raw.arcs) {
    s.cx[k] = cx; s.cy[k] = cy; s.sweep[k] = sweep;
    s.radius[k] = Math.hypot(s.x0[k] - cx, s.y0[k] - cy);
    s.first[k] = Math.atan2(s.y0[k] - cy, s.x0[k] - cx);
  }
  const paused = new Map(raw.pauses.map(([k, seconds, words]) => [k, { seconds, words }]));
  let ticks = 0;
  for (let k = 0; k < n; k++) {
    ticks += raw.ticks[k];
    s.time[k + 1] = ticks / TICKS;
    s.wait[k] = Math.min(paused.get(k)?.seconds ?? 0, s.time[k + 1] - s.time[k]);
  }
  s.pauses = paused;
  return s;
}

/** The stroke that is under way at a time: the last one that has begun, so that standing still takes no time. */
function strokeAt(s, time) {
  if (!s.n || time >= s.time[s.n]) return { k: s.n, share: 0 };
  let low = 0, high = s.n;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (s.time[middle + 1] <= time) low = middle + 1; else high = middle;
  }
  const length = s.time[low + 1] - s.time[low] - s.wait[low];
  return { k: low, share: length > 0 ? Math.max(0, (time - s.time[low] - s.wait[low]) / length) : 0 };
}

/** How the sheet lies, and which bushing rides in it, while stroke k is under way; undefined where there is no sheet. */
function stageAt(film, k) {
  if (!film.stages) return undefined;
  let found = film.stages[0];
  for (const each of film.stages) if (each.from <= k && each.from < film.strokes.x.length) found = each;
  return found;
}

/** The place on stroke k at a share of it, [x, y, z]. */
function pointOn(s, k, share) {
  if (!s.n) return [0, 0, 0];
  if (k >= s.n) { k = s.n - 1; share = 1; }
  const z = s.z0[k] + (s.z1[k] - s.z0[k]) * share;
  if (!s.sweep[k]) {
    return [s.x0[k] + (s.x1[k] - s.x0[k]) * share, s.y0[k] + (s.y1[k] - s.y0[k]) * share, z];
  }
  const angle = s.first[k] + s.sweep[k] * share;
  return [s.cx[k] + s.radius[k] * Math.cos(angle), s.cy[k] + s.radius[k] * Math.sin(angle), z];
}

/** Whether a stroke has a length in the plane; a plunge has none. */
function moves(s, k) {
  return s.sweep[k] !== 0 || s.x0[k] !== s.x1[k] || s.y0[k] !== s.y1[k];
}

/** Adds the part of a stroke from share a to share b to the path of a canvas, from where its pen is. */
function trace(path, s, k, a, b) {
  if (s.sweep[k]) {
    const from = s.first[k] + s.sweep[k] * a;
    path.arc(s.cx[k], s.cy[k], s.radius[k], from, s.first[k] + s.sweep[k] * b, s.sweep[k] < 0);
  } else {
    const [x, y] = pointOn(s, k, b);
    path.lineTo(x, y);
  }
}

/** The radius of a bit at a height above its tip, mm; below the tip and above its end −1. At a jump the wider one. */
function radiusAt(tool, height) {
  const h = tool.heights, r = tool.radii;
  if (height < 0 || height > h[h.length - 1]) return -1;
  let best = -1;
  for (let k = 0; k + 1 < h.length; k++) {
    if (height < h[k] || height > h[k + 1]) continue;
    const share = h[k + 1] > h[k] ? (height - h[k]) / (h[k + 1] - h[k]) : 0;
    best = Math.max(best, h[k + 1] > h[k] ? r[k] + (r[k + 1] - r[k]) * share : Math.max(r[k], r[k + 1]));
  }
  return best;
}

const GATHERED = 64; // loops that are gathered before they join a path: browsers look through all of it at every arc

/** A path from the loops of a region: x, y and bulge (the tangent of a quarter of the turn) of each vertex. */
function pathOf(loops) {
  if (loops.length > GATHERED) {
    const all = new Path2D();
    for (let k = 0; k < loops.length; k += GATHERED) all.addPath(pathOf(loops.slice(k, k + GATHERED)));
    return all;
  }
  const path = new Path2D();
  for (const loop of loops) {
    const n = loop.length / 3;
    path.moveTo(loop[0], loop[1]);
    for (let k = 0; k < n; k++) {
      const x0 = loop[3 * k], y0 = loop[3 * k + 1], bulge = loop[3 * k + 2], j = (k + 1) % n;
      const x1 = loop[3 * j], y1 = loop[3 * j + 1];
      if (!bulge) { path.lineTo(x1, y1); continue; }
      // The centre lies on the chord's bisector, (1/bulge − bulge)/4 of the chord to the left of its middle.
      const off = (1 / bulge - bulge) / 4;
      const cx = (x0 + x1) / 2 - (y1 - y0) * off, cy = (y0 + y1) / 2 + (x1 - x0) * off;
      path.arc(cx, cy, Math.hypot(x0 - cx, y0 - cy), Math.atan2(y0 - cy, x0 - cx), Math.atan2(y1 - cy, x1 - cx), bulge < 0);
    }
    path.closePath();
  }
  return path;
}
