// Sums: the page's own measure of what is gone at a height, from the strokes and nothing else. Each dot counts by the
// share of it that is covered; strokes of one radius are laid down at once, so that no edge counts twice.

const SUM_WIDE = 1800, SUM_HIGH = 1400; // dots of the canvas that is counted
const SUM_FINE = 40; // dots a mm at the most
const SUM_MOST = 30000; // strokes that are laid down at the most; with more no sum is given
const BETWEEN = 1 / 8; // of a dot by which it is all laid down once more: browsers see edges in quarters of a dot, and err half as much then
const HALF = 127; // a dot counts as left, or as cut too far, where more than half of it is

/** What is gone at a height when the strokes have come to a place: areas in mm², `dot` in mm; null where there are too
 * many strokes. standing: of what has to go, edges too; left: the same where whole dots stand; gouge: whole dots gone of
 * what has to stay. */
function sumAt(film, s, height, k, share) {
  const byRadius = new Map(), seen = new Set(), dots = [];
  const box = [Infinity, Infinity, -Infinity, -Infinity];
  let count = 0;
  const widen = (x, y, r) => {
    box[0] = Math.min(box[0], x - r); box[1] = Math.min(box[1], y - r);
    box[2] = Math.max(box[2], x + r); box[3] = Math.max(box[3], y + r);
  };
  for (let j = 0; j < s.n && j <= k; j++) {
    if (s.way[j] !== CUT || (j === k && !share)) continue;
    for (const [a, b, radius] of sectionPieces(film, s, j, 0, j === k ? share : 1, height.z)) {
      if (!(radius > 0)) continue;
      const [x, y] = pointOn(s, j, a), [u, v] = pointOn(s, j, b);
      const key = `${x.toFixed(4)} ${y.toFixed(4)} ${u.toFixed(4)} ${v.toFixed(4)} ${s.sweep[j].toFixed(6)} ${radius.toFixed(4)}`;
      if (seen.has(key)) continue;
      seen.add(key);
      if (++count > SUM_MOST) return null;
      const reach = radius + (s.sweep[j] ? 2 * s.radius[j] : 0);
      widen(x, y, reach); widen(u, v, reach);
      if (!moves(s, j)) { dots.push([x, y, radius]); continue; }
      const name = radius.toFixed(4);
      if (!byRadius.has(name)) byRadius.set(name, []);
      byRadius.get(name).push([j, a, b]);
    }
  }
  const drawing = film.drawings[height.drawing];
  for (const loop of drawing.must) {
    for (let j = 0; j < loop.length; j += 3) {
      // An arc goes beyond its ends by as much as it is high, in any direction at the most.
      const next = (j + 3) % loop.length, chord = Math.hypot(loop[next] - loop[j], loop[next + 1] - loop[j + 1]);
      widen(loop[j], loop[j + 1], 0.5 + Math.abs(loop[j + 2]) * chord / 2);
      widen(loop[next], loop[next + 1], 0.5 + Math.abs(loop[j + 2]) * chord / 2);
    }
  }
  const [x0, y0, x1, y1] = film.stock;
  const part = [Math.max(box[0], x0), Math.max(box[1], y0), Math.min(box[2], x1), Math.min(box[3], y1)];
  if (!(part[2] > part[0] && part[3] > part[1])) return { area: 0, standing: drawing.area, left: drawing.area, gouge: 0, dot: 0.1 };
  const scale = Math.min(SUM_FINE, SUM_WIDE / (part[2] - part[0]), SUM_HIGH / (part[3] - part[1]));
  const wide = Math.ceil((part[2] - part[0]) * scale) + 4, high = Math.ceil((part[3] - part[1]) * scale) + 4;
  const fit = { scale, left: 2 - scale * part[0], top: high - 2 + scale * part[1] };
  const counted = (draw, shift = 0) => {
    const canvas = blank(wide, high, true), c = canvas.getContext("2d", { willReadFrequently: true });
    lay(c, { scale, left: fit.left + shift, top: fit.top + shift });
    c.beginPath(); c.rect(x0, y0, x1 - x0, y1 - y0); c.clip();
    c.lineCap = "round"; c.lineJoin = "round";
    draw(c);
    return c.getImageData(0, 0, wide, high).data;
  };
  const laid = (c) => {
    for (const [name, parts] of byRadius) {
      const all = new Path2D();
      for (let first = 0; first < parts.length; first += GATHERED) {
        const some = new Path2D();
        for (const [j, a, b] of parts.slice(first, first + GATHERED)) {
          const [x, y] = pointOn(s, j, a);
          some.moveTo(x, y);
          trace(some, s, j, a, b);
        }
        all.addPath(some);
      }
      c.lineWidth = 2 * Number(name);
      c.stroke(all);
    }
    for (const [x, y, radius] of dots) { c.beginPath(); c.arc(x, y, radius, 0, 2 * Math.PI); c.fill(); }
  };
  const gone = counted(laid), again = counted(laid, BETWEEN);
  const must = counted((c) => c.fill(pathOf(drawing.must)));
  const may = counted((c) => { c.fill(pathOf(drawing.may)); engraved(c, film, height.z); });
  let area = 0, standing = 0, left = 0, gouge = 0;
  for (let j = 3; j < gone.length; j += 4) {
    area += (gone[j] + again[j]) / 2;
    standing += Math.max(0, must[j] - gone[j]);
    if (must[j] - gone[j] > HALF) left += must[j] - gone[j];
    if (gone[j] - may[j] > HALF) gouge += gone[j] - may[j];
  }
  const each = 1 / (255 * scale * scale);
  return { area: area * each, standing: standing * each, left: left * each, gouge: gouge * each, dot: 1 / scale };
}

/** Lines that may be engraved at a height, as wide as they are drawn, or some mm more. */
function engraved(c, film, z, more = 0) {
  c.lineCap = "round"; c.lineJoin = "round";
  for (const mark of film.marks) {
    if (z < -mark.depth) continue;
    c.lineWidth = mark.width + more;
    c.beginPath();
    for (const path of mark.paths) {
      c.moveTo(path[0], path[1]);
      for (let j = 2; j < path.length; j += 2) c.lineTo(path[j], path[j + 1]);
    }
    c.stroke();
  }
}

/** How far two sums may be apart, mm²: a tenth of a dot along the outline. */
function slackOf(height, sum) {
  return 0.1 * sum.dot * height.edge;
}
