// Painters: what the strokes leave, painted as they go. A painter goes on from where it is; to go back it starts from
// the last picture that it kept. It paints so many strokes at a time, so that the page never stands still.

const KEPT = 12; // pictures that a painter keeps on its way
const RING = 7; // rings that stand for a bit that is not straight, seen from above
const SLOPE = 24; // steps in which a sloping stroke is painted over the thickness of the stock
const JOINED = 64; // lines of one width and colour that are painted at once: longer paths take browsers more than twice as long
const FINER = 0.4; // of a dot: what is shorter is painted together with what follows
const RINGS = 0.6; // of a dot by which rings differ at least: finer ones nobody sees
const SPECK = 0.02; // of a dot: the line that stands for a plunge, as a line without length is not painted

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

/** A brush of one width and colour. Lines that it draws are gathered, and painted at once: where the deepest or the only
 * colour wins, it is all the same which comes first. */
class Brush {
  constructor(radius, style) {
    Object.assign(this, { radius, style });
    this.clean();
  }

  clean() {
    this.path = null;
    this.count = 0;
    this.at = -2; // the stroke that the pen has drawn to its end
    this.penX = this.penY = this.restX = this.restY = 0; // where the pen is, and where the line goes to that is not drawn yet
    this.rest = false;
  }

  /** Part of stroke k; fine: mm below which lines are not worth their own. */
  draw(s, k, from, to, fine) {
    this.path ??= new Path2D();
    const whole = from === 0 && to === 1;
    if (!moves(s, k)) {
      const x = s.x1[k], y = s.y1[k];
      this.begin(x, y);
      this.path.lineTo(x + fine * SPECK / FINER, y);
      this.at = -2;
      this.count++;
      return;
    }
    if (!(this.at === k - 1 && from === 0 && s.x0[k] === s.x1[k - 1] && s.y0[k] === s.y1[k - 1])) {
      const [x, y] = from === 0 ? [s.x0[k], s.y0[k]] : pointOn(s, k, from);
      this.begin(x, y);
    }
    const [x, y] = whole ? [s.x1[k], s.y1[k]] : pointOn(s, k, to);
    const long = s.sweep[k] ? Math.abs(s.sweep[k]) * s.radius[k] * (to - from) : 0;
    const far = Math.hypot(x - this.penX, y - this.penY);
    if (long > fine || (long && this.rest)) {
      this.finish();
      trace(this.path, s, k, from, to);
      this.count++;
      this.penX = x; this.penY = y;
    } else if (far > fine) {
      this.path.lineTo(x, y);
      this.count++;
      this.penX = x; this.penY = y;
      this.rest = false;
    } else {
      this.rest = true;
      this.restX = x; this.restY = y;
    }
    this.at = to === 1 ? k : -2;
  }

  begin(x, y) {
    this.finish();
    this.path.moveTo(x, y);
    this.penX = x; this.penY = y;
  }

  /** The short line that waits for more. */
  finish() {
    if (!this.rest) return;
    // A path whose only line has no length would leave nothing.
    const least = this.restX === this.penX && this.restY === this.penY ? 1e-4 : 0;
    this.path.lineTo(this.restX + least, this.restY);
    this.rest = false;
    this.count++;
  }

  paint(c) {
    if (!this.path) return;
    this.finish();
    c.lineWidth = 2 * this.radius;
    c.strokeStyle = this.style;
    c.stroke(this.path);
    this.clean();
  }
}

/** A part of a canvas, in dots: what has to be drawn anew. */
class Spot {
  constructor() { this.clear(); }

  clear() { this.x0 = this.y0 = Infinity; this.x1 = this.y1 = -Infinity; }
  get empty() { return !(this.x1 > this.x0 && this.y1 > this.y0); }

  /** A box of the picture is in it; room: dots round it. */
  widen(fit, x0, y0, x1, y1, room) {
    this.x0 = Math.min(this.x0, fit.left + fit.scale * x0 - room); this.x1 = Math.max(this.x1, fit.left + fit.scale * x1 + room);
    this.y0 = Math.min(this.y0, fit.top - fit.scale * y1 - room); this.y1 = Math.max(this.y1, fit.top - fit.scale * y0 + room);
  }

  add(other) {
    this.x0 = Math.min(this.x0, other.x0); this.y0 = Math.min(this.y0, other.y0);
    this.x1 = Math.max(this.x1, other.x1); this.y1 = Math.max(this.y1, other.y1);
  }

  all(width, height) { this.x0 = this.y0 = 0; this.x1 = width; this.y1 = height; }

  /** [x, y, width, height] in whole dots within a canvas; null where nothing is left. */
  within(width, height) {
    if (this.empty) return null;
    const x0 = Math.max(0, Math.floor(this.x0)), y0 = Math.max(0, Math.floor(this.y0));
    const x1 = Math.min(width, Math.ceil(this.x1)), y1 = Math.min(height, Math.ceil(this.y1));
    return x1 > x0 && y1 > y0 ? [x0, y0, x1 - x0, y1 - y0] : null;
  }
}

/** Where a stroke may be, [x0, y0, x1, y1] in mm, its width apart. */
function boxOf(s, k) {
  const x0 = s.x0[k], y0 = s.y0[k], x1 = s.x1[k], y1 = s.y1[k], sweep = Math.abs(s.sweep[k]);
  if (sweep > Math.PI) return [s.cx[k] - s.radius[k], s.cy[k] - s.radius[k], s.cx[k] + s.radius[k], s.cy[k] + s.radius[k]];
  // An arc of up to half a turn stays as near to its chord as it is high.
  const high = sweep ? s.radius[k] * (1 - Math.cos(sweep / 2)) : 0;
  return [Math.min(x0, x1) - high, Math.min(y0, y1) - high, Math.max(x0, x1) + high, Math.max(y0, y1) + high];
}

class Painter {
  /** begin(context): the picture before anything is cut. pieces(k, a, b): what a part of a stroke paints, as a list of
   * [share a, share b, brush]. blend: how it is laid over what is there. */
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
    this.fine = FINER / fit.scale;
    this.kept = [];
    this.wet = new Set();
    this.fresh = new Spot(); // what has changed since whoever looks at it last cleared this
    this.restart();
  }

  restart() {
    this.k = 0; this.share = 0;
    this.fresh.all(this.canvas.width, this.canvas.height);
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

  /** To the last kept picture that is not beyond a place. */
  back(k) {
    const found = this.kept.filter((each) => each.k <= k).pop();
    if (!found) { this.restart(); return; }
    const c = this.context;
    c.setTransform(1, 0, 0, 1, 0, 0);
    c.globalCompositeOperation = "copy";
    c.drawImage(found.copy, 0, 0);
    this.k = found.k; this.share = 0;
    this.fresh.all(this.canvas.width, this.canvas.height);
  }

  /** Paints up to a place, or as many strokes as `most`. Returns whether it is there. */
  advance(k, share, most) {
    if (k === this.k && share === this.share) return true;
    if (k < this.k || (k === this.k && share < this.share)) this.back(k);
    const last = this.kept.length ? this.kept[this.kept.length - 1].k : 0;
    if (this.kept.some((each) => each.k <= k && each.k > this.k + this.step / 2)) this.back(k);
    const s = this.strokes;
    let keepAt = Math.max(last, this.k - (this.k % this.step)) + this.step, painted = 0;
    this.ready();
    while (this.k < k || (this.k === k && this.share < share)) {
      const end = this.k < k ? 1 : share;
      if (s.way[this.k] === CUT) {
        this.paint(this.k, this.share, end);
        painted++;
      }
      if (this.k < k) { this.k++; this.share = 0; } else { this.share = share; }
      if (this.k >= keepAt && this.share === 0) { this.dry(); this.keep(); keepAt += this.step; this.ready(); }
      if (painted >= most) break;
    }
    this.dry();
    return this.k === k && this.share === share;
  }

  ready() {
    const c = this.context;
    lay(c, this.fit);
    c.globalCompositeOperation = this.blend;
    c.lineCap = "round"; c.lineJoin = "round";
  }

  paint(k, a, b) {
    let widest = 0;
    for (const [from, to, brush] of this.pieces(k, a, b)) {
      if (!(brush.radius > 0)) continue;
      widest = Math.max(widest, brush.radius);
      this.wet.add(brush);
      brush.draw(this.strokes, k, from, to, this.fine);
      if (brush.count >= JOINED) { brush.paint(this.context); this.wet.delete(brush); }
    }
    if (widest) this.fresh.widen(this.fit, ...boxOf(this.strokes, k), widest * this.fit.scale + 2);
  }

  /** All that is gathered comes onto the picture. */
  dry() {
    for (const brush of this.wet) brush.paint(this.context);
    this.wet.clear();
  }
}

/** Radii that are open to the eye above a floor at some heights over the tip: a bit that is wider at its tip than above
 * leaves wood over what it has cut. top: height of the face above the tip; apart: mm by which radii differ at least.
 * Returns [height, radius], the lowest first. */
function ringsOf(tool, top, apart) {
  const high = Math.max(0, Math.min(top, tool.cutting));
  const all = [];
  for (let k = 0; k < RING; k++) all.push(high * k / (RING - 1));
  const radii = all.map((h) => radiusAt(tool, h));
  for (let k = RING - 2; k >= 0; k--) radii[k] = Math.min(radii[k], radii[k + 1]);
  const rings = [[0, radii[0]]];
  let below = 0;
  for (let k = 1; k < RING; k++) {
    // The widest is there in any case: it is the outline. A ring is as deep as the flank is half way across it.
    const wider = radii[k] - rings[rings.length - 1][1];
    if (wider <= 1e-3 || (wider <= apart && k < RING - 1)) continue;
    rings.push([(below + all[k]) / 2, radii[k]]);
    below = all[k];
  }
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
  const brushes = (tool, top) => {
    const key = tool * 1e6 + Math.round(top * 100);
    if (!known.has(key)) {
      const rings = ringsOf(film.tools[tool], top, RINGS / fit.scale);
      known.set(key, rings.map(([above, radius]) => new Brush(radius, shade((top - above) / deep))));
    }
    return known.get(key);
  };
  const pieces = (k, a, b) => {
    if (!film.tools[s.tool[k]] || Math.min(s.z0[k], s.z1[k]) >= 0) return [];
    const out = [];
    for (const [from, to] of slices(s, k, a, b, step)) {
      const height = (share) => s.z0[k] + (s.z1[k] - s.z0[k]) * share;
      const tip = moves(s, k) ? (height(from) + height(to)) / 2 : Math.min(height(from), height(to));
      if (tip >= 0) continue;
      for (const brush of brushes(s.tool[k], -tip)) out.push([from, to, brush]);
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
  const known = new Map();
  const brush = (radius) => {
    const key = Math.round(radius * 1e4);
    if (!known.has(key)) known.set(key, new Brush(radius, style));
    return known.get(key);
  };
  return new Painter(film, s, fit, width, height, "source-over", () => {}, (k, a, b) => {
    return sectionPieces(film, s, k, a, b, z).map(([from, to, radius]) => [from, to, brush(radius)]);
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
