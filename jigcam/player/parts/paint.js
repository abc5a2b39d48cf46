// Painters: what the strokes leave, painted as they go. A painter goes on from where it is; to go back it starts from
// the last picture that it kept. It paints so many strokes at a time, so that the page never stands still.

const KEPT = 12; // pictures that a painter keeps on its way
const RING = 7; // rings that stand for a bit that is not straight, seen from above
const SLOPE = 24; // steps in which a sloping stroke is painted over the thickness of the stock
const JOINED = 48; // strokes of one depth that are painted at once

function blank(width, height, readable) {
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, width); canvas.height = Math.max(1, height);
  canvas.getContext("2d", { willReadFrequently: Boolean(readable) });
  return canvas;
}

/** How mm become dots: scale in dots a mm, and where the origin is; y goes up. */
function fitted(box, width, height, margin) {
  const [x0, y0, x1, y1] = box;
  const scale = Math.min((width - 2 * margin) / Math.max(x1 - x0, 1e-6), (height - 2 * margin) / Math.max(y1 - y0, 1e-6));
  const left = (width - scale * (x1 - x0)) / 2 - scale * x0;
  const top = (height + scale * (y1 - y0)) / 2 + scale * y0;
  return { scale, left, top };
}

function lay(context, fit) {
  context.setTransform(fit.scale, 0, 0, -fit.scale, fit.left, fit.top);
}

class Painter {
  /** begin(context): the picture before anything is cut. pieces(k, a, b): what a part of a stroke paints, as a list of
   * [share a, share b, radius, style]. blend: how it is laid over what is there. */
  constructor(film, strokes, fit, width, height, blend, begin, pieces) {
    Object.assign(this, { strokes, fit, blend, begin, pieces });
    this.canvas = blank(width, height);
    this.context = this.canvas.getContext("2d");
    // Beside the stock there is nothing to cut.
    const [x0, y0, x1, y1] = film.stock;
    lay(this.context, fit);
    this.context.beginPath();
    this.context.rect(x0, y0, x1 - x0, y1 - y0);
    this.context.clip();
    this.step = Math.max(200, Math.ceil(strokes.n / KEPT));
    this.kept = [];
    this.restart();
  }

  restart() {
    this.k = 0; this.share = 0;
    const c = this.context;
    c.setTransform(1, 0, 0, 1, 0, 0);
    c.globalCompositeOperation = "source-over";
    c.clearRect(0, 0, this.canvas.width, this.canvas.height);
    lay(c, this.fit);
    this.begin(c);
  }

  keep() {
    const copy = blank(this.canvas.width, this.canvas.height);
    copy.getContext("2d").drawImage(this.canvas, 0, 0);
    this.kept.push({ k: this.k, copy });
  }

  /** Back to the last kept picture that is not beyond a place. */
  back(k) {
    const found = this.kept.filter((each) => each.k <= k).pop();
    if (!found) { this.restart(); return; }
    const c = this.context;
    c.setTransform(1, 0, 0, 1, 0, 0);
    c.globalCompositeOperation = "copy";
    c.drawImage(found.copy, 0, 0);
    this.k = found.k; this.share = 0;
  }

  /** Paints up to a place, or as many strokes as `most`. Returns whether it is there. */
  advance(k, share, most) {
    if (k < this.k || (k === this.k && share < this.share)) this.back(k);
    const last = this.kept.length ? this.kept[this.kept.length - 1].k : 0;
    const ahead = this.kept.find((each) => each.k > this.k && each.k <= k && each.k > this.k + this.step / 2);
    if (ahead) this.back(k);
    const s = this.strokes, c = this.context;
    lay(c, this.fit);
    c.globalCompositeOperation = this.blend;
    c.lineCap = "round"; c.lineJoin = "round";
    let keepAt = Math.max(last, this.k - (this.k % this.step)) + this.step, painted = 0;
    this.open = null;
    while (this.k < k || (this.k === k && this.share < share)) {
      const end = this.k < k ? 1 : share;
      if (s.way[this.k] === CUT) this.paint(this.k, this.share, end); else this.close();
      if (this.k < k) { this.k++; this.share = 0; } else { this.share = share; }
      if (this.k >= keepAt && this.share === 0) { this.close(); this.keep(); keepAt += this.step; this.ready(); }
      if (++painted >= most) break;
    }
    this.close();
    return this.k === k && this.share === share;
  }

  ready() {
    lay(this.context, this.fit);
    this.context.globalCompositeOperation = this.blend;
  }

  /** Level strokes of one radius and style that follow each other become one line; the rest is painted as it comes. */
  paint(k, a, b) {
    const s = this.strokes, found = this.pieces(k, a, b);
    for (const [from, to, radius, style] of found) {
      if (!(radius > 0)) continue;
      if (!moves(s, k)) { this.close(); this.dot(k, radius, style); continue; }
      const joins = found.length === 1 && this.open && this.open.radius === radius && this.open.style === style
        && this.open.at === k - 1 && from === 0 && this.open.count < JOINED
        && s.x0[k] === s.x1[k - 1] && s.y0[k] === s.y1[k - 1];
      if (!joins) {
        this.close();
        const [x, y] = pointOn(s, k, from);
        this.open = { radius, style, at: k, count: 0 };
        this.context.beginPath();
        this.context.moveTo(x, y);
      }
      trace(this.context, s, k, from, to);
      this.open.at = to === 1 ? k : -2;
      this.open.count++;
      if (found.length > 1) this.close();
    }
    if (!found.length) this.close();
  }

  dot(k, radius, style) {
    const c = this.context;
    c.fillStyle = style;
    c.beginPath();
    c.arc(this.strokes.x1[k], this.strokes.y1[k], radius, 0, 2 * Math.PI);
    c.fill();
  }

  close() {
    if (!this.open) return;
    const c = this.context;
    c.lineWidth = 2 * this.open.radius;
    c.strokeStyle = this.open.style;
    c.stroke();
    this.open = null;
  }
}

/** Radii that are open to the eye above a floor at some heights over the tip: a bit that is wider at its tip than above
 * leaves wood over what it has cut. top: height of the face above the tip. Returns [height, radius], the lowest first. */
function ringsOf(tool, top) {
  const high = Math.max(0, Math.min(top, tool.cutting));
  const all = [];
  for (let k = 0; k < RING; k++) all.push(high * k / (RING - 1));
  const radii = all.map((h) => radiusAt(tool, h));
  for (let k = RING - 2; k >= 0; k--) radii[k] = Math.min(radii[k], radii[k + 1]);
  const rings = [];
  for (let k = 0; k < RING; k++) if (!k || radii[k] > radii[k - 1] + 1e-3) rings.push([all[k], radii[k]]);
  return rings;
}

/** Shares of a part of a stroke, cut so that the tip's height changes little in each. */
function slices(s, k, a, b, step) {
  const fall = Math.abs(s.z1[k] - s.z0[k]) * (b - a);
  const count = moves(s, k) ? Math.max(1, Math.ceil(fall / step)) : 1;
  const out = [];
  for (let j = 0; j < count; j++) out.push([a + (b - a) * j / count, a + (b - a) * (j + 1) / count]);
  return out;
}

/** The depth that is shown darkest, mm: all that the file cuts, or all that the stock is thick. */
function deepest(film) {
  return Math.max(Math.min(film.proof.depth || film.stock[4], film.stock[4]), 0.1);
}

/** Seen from above: the deeper, the darker; where two floors meet, the lower one stays. */
function topPainter(film, s, fit, width, height, shade) {
  const deep = deepest(film), step = deep / SLOPE, known = new Map();
  const rings = (tool, top) => {
    const key = `${tool} ${Math.round(top * 100)}`;
    if (!known.has(key)) known.set(key, ringsOf(film.tools[tool], top));
    return known.get(key);
  };
  const pieces = (k, a, b) => {
    if (!film.tools[s.tool[k]] || Math.min(s.z0[k], s.z1[k]) >= 0) return [];
    const out = [];
    for (const [from, to] of slices(s, k, a, b, step)) {
      const height = (share) => s.z0[k] + (s.z1[k] - s.z0[k]) * share;
      const tip = moves(s, k) ? (height(from) + height(to)) / 2 : Math.min(height(from), height(to));
      if (tip >= 0) continue;
      for (const [above, radius] of rings(s.tool[k], -tip)) out.push([from, to, radius, shade(-(tip + above) / deep)]);
    }
    return out;
  };
  const [x0, y0, x1, y1] = film.stock;
  return new Painter(film, s, fit, width, height, "darken", (c) => {
    c.fillStyle = shade(0);
    c.fillRect(x0, y0, x1 - x0, y1 - y0);
    c.globalCompositeOperation = "darken";
  }, pieces);
}

/** What is gone at one height: opaque where the bit has been, clear elsewhere. */
function sectionPainter(film, s, fit, width, height, z, style) {
  return new Painter(film, s, fit, width, height, "source-over", () => {}, (k, a, b) => {
    return sectionPieces(film, s, k, a, b, z).map(([from, to, radius]) => [from, to, radius, style]);
  });
}

/** What a part of a stroke clears at height z: [share, share, radius]. */
function sectionPieces(film, s, k, a, b, z) {
  const tool = film.tools[s.tool[k]];
  if (!tool || Math.min(s.z0[k], s.z1[k]) > z) return [];
  const rise = s.z1[k] - s.z0[k], height = (share) => s.z0[k] + rise * share;
  if (!moves(s, k)) {
    // A plunge clears the widest disc of the bit that passes the height.
    const low = Math.min(height(a), height(b)), high = Math.min(z, Math.max(height(a), height(b)));
    if (low > z) return [];
    let widest = -1;
    for (let j = 0; j <= RING; j++) widest = Math.max(widest, radiusAt(tool, z - (low + (high - low) * j / RING)));
    return [[a, b, widest]];
  }
  if (!rise) return [[a, b, radiusAt(tool, z - s.z0[k])]];
  let from = a, to = b;
  const across = (z - s.z0[k]) / rise;
  if (height(a) > z) from = across;
  if (height(b) > z) to = across;
  if (to <= from) return [];
  const straight = radiusAt(tool, z - height(from)) === radiusAt(tool, z - height(to));
  return slices(s, k, from, to, straight ? Infinity : 0.05).map(([c, d]) => {
    return [c, d, radiusAt(tool, Math.max(0, z - (height(c) + height(d)) / 2))];
  });
}
