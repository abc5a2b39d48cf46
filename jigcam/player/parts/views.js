// The view from above: the wood as it goes or a section through it, the drawing, the way of the bit, the template.

const MARGIN = 14, FOOT = 30; // dots of a screen left free round the work, and below it for the scale
const TRAIL = 120; // strokes of the way that stay to be seen behind the bit
const DASHED = 500; // outlines up to which they are dashed, and their half dots looked after: of more, both take long
const STEEP = 0.1; // of the greatest depth from a dot to the next but one: that is a wall
const SMALL = 192, STRIP = 48; // dots of a side, and of the height of a strip, that are drawn through a small canvas
const OFTEN = 2; // dots of the screen to a dot of the page at the most

function ink(name) {
  return getComputedStyle(document.documentElement).getPropertyValue(`--${name}`).trim();
}

function inks() {
  const names = ["bench", "wood", "deep", "section", "gone", "left", "gouge", "line", "drawn", "bit", "bushing", "sheet",
    "way", "clamp", "plane", "text"];
  return Object.fromEntries(names.map((name) => [name, ink(name)]));
}

function rgb(hex) {
  return [1, 3, 5].map((k) => parseInt(hex.slice(k, k + 2), 16));
}

/** The colour of a depth, 0 at the face to 1 at the bottom; every channel falls, so that the darker is the deeper. */
function shading(colours) {
  const top = rgb(colours.wood), bottom = rgb(colours.deep);
  return (share) => {
    const t = 0.12 * (share > 0) + 0.88 * Math.min(1, Math.max(0, share));
    return `rgb(${top.map((from, k) => Math.round(from + (bottom[k] - from) * t)).join(" ")})`;
  };
}

/** Sizes a canvas to its place on the page. Returns [width, height, dots to a dot of the page]. */
function sized(canvas) {
  const ratio = Math.min(OFTEN, window.devicePixelRatio || 1);
  const box = canvas.getBoundingClientRect();
  const width = Math.max(1, Math.round(box.width * ratio)), height = Math.max(1, Math.round(box.height * ratio));
  if (canvas.width !== width || canvas.height !== height) { canvas.width = width; canvas.height = height; }
  return [width, height, ratio];
}

/** The sheet of a template with its opening, to be filled even-odd. */
function sheetPath(sheet) {
  if (!sheet.path) {
    sheet.path = pathOf(sheet.outline);
    sheet.path.addPath(pathOf(sheet.opening));
  }
  return sheet.path;
}

class PlanView {
  constructor(canvas) {
    this.canvas = canvas;
    this.context = canvas.getContext("2d");
  }

  /** Begins anew: another film, size, colours or part of the work. */
  lay(film, s, close, heightIndex) {
    [this.width, this.height, this.ratio] = sized(this.canvas);
    Object.assign(this, { film, s });
    this.colours = inks();
    this.fit = fitted(close ? this.around() : film.stock, this.width, this.height - FOOT * this.ratio, MARGIN * this.ratio);
    this.top = topPainter(film, s, this.fit, this.width, this.height, shading(this.colours));
    this.row = blank(this.width, 1, true);
    this.spares = [blank(SMALL, SMALL), blank(this.width, STRIP), blank(this.width, this.height)];
    this.wood = blank(this.width, this.height); // all that lies still, with the wood as it is
    this.mover = new Spot(); // what moved over it
    this.section(heightIndex);
  }

  /** The section at another height. */
  section(index) {
    const film = this.film, height = film.heights[index];
    this.at = height;
    this.cut = height && sectionPainter(film, this.s, this.fit, this.width, this.height, height.z, this.colours.gone);
    this.prepare();
  }

  picture(draw) {
    const canvas = blank(this.width, this.height), c = canvas.getContext("2d");
    lay(c, this.fit);
    draw(c);
    return canvas;
  }

  /** Pictures of what does not move: what has to go, what may go, and the lines of the drawing over it. */
  prepare() {
    const film = this.film, drawing = this.at ? film.drawings[this.at.drawing] : { must: [], may: [] };
    const must = pathOf(drawing.must), may = pathOf(drawing.may);
    const few = this.few = drawing.must.length < DASHED, fringe = 1.5 / this.fit.scale;
    this.edges = few ? drawing.must.map((loop) => pathOf([loop])) : [must];
    this.toGo = this.picture((c) => { c.fillStyle = this.colours.left; c.fill(must); });
    // Edges that only half cover a dot are neither left nor cut too far.
    this.toGoWhole = this.picture((c) => {
      c.fillStyle = this.colours.left;
      c.fill(must);
      c.globalCompositeOperation = "destination-out";
      c.lineWidth = fringe;
      if (few) c.stroke(must);
    });
    this.free = this.picture((c) => {
      c.lineWidth = fringe;
      c.fill(may);
      if (drawing.may.length < DASHED) c.stroke(may);
      if (this.at) engraved(c, film, this.at.z, 2 * fringe);
    });
    this.still = "";
  }

  drawStill(c, stage, ended) {
    const film = this.film, [x0, y0, x1, y1] = film.stock, thin = this.ratio / this.fit.scale;
    c.lineWidth = 1.6 * thin;
    c.strokeStyle = this.colours.line;
    c.strokeRect(x0, y0, x1 - x0, y1 - y0);
    if (this.few) c.setLineDash([5 * thin, 3 * thin]);
    c.lineWidth = thin;
    c.strokeStyle = this.colours.drawn;
    for (const edge of this.edges) c.stroke(edge);
    c.setLineDash([]);
    this.drawKeepOuts(c, thin);
    if (stage) this.drawSheet(c, thin, stage, ended);
    this.drawZero(c, thin);
    if (ended) this.drawPlaces(c, thin);
    this.drawScale(c);
  }

  /** Where the bit cuts, with some room round it, in the shape of the canvas. */
  around() {
    const s = this.s, film = this.film, [x0, y0, x1, y1] = film.stock;
    const box = [Infinity, Infinity, -Infinity, -Infinity];
    let widest = 2;
    for (const tool of Object.values(film.tools)) widest = Math.max(widest, radiusAt(tool, 0), radiusAt(tool, tool.cutting / 2));
    for (let k = 0; k < s.n; k++) {
      if (s.way[k] !== CUT || Math.min(s.z0[k], s.z1[k]) >= 0) continue;
      for (const share of s.sweep[k] ? [0, 0.25, 0.5, 0.75, 1] : [0, 1]) {
        const [x, y] = pointOn(s, k, share);
        box[0] = Math.min(box[0], x); box[1] = Math.min(box[1], y);
        box[2] = Math.max(box[2], x); box[3] = Math.max(box[3], y);
      }
    }
    if (!(box[2] >= box[0])) return film.stock;
    const room = film.stages ? 2.2 * Math.max(...film.stages.map((each) => each.bushing.radius)) : 1.6 * widest;
    const part = [box[0] - room, box[1] - room, box[2] + room, box[3] + room];
    return [Math.max(part[0], x0 - room), Math.max(part[1], y0 - room), Math.min(part[2], x1 + room), Math.min(part[3], y1 + room)];
  }

  /** Draws the work at a place. Returns whether all the wood of the picture is as it is there. */
  draw(k, share, mode, most, ended) {
    const c = this.context, cross = mode === "cross" && this.cut, seen = cross ? this.cut : this.top;
    let done = seen.advance(k, share, most);
    // The view from the front needs the wood as seen from above, too, but less.
    if (cross) done = this.top.advance(k, share, Math.max(LEAST, most / 4)) && done;
    const stage = stageAt(this.film, k), still = `${mode} ${ended} ${stage?.from} ${ended && done}`;
    if (still !== this.still) {
      this.still = still;
      this.over = this.picture((over) => this.drawStill(over, stage, ended));
      seen.fresh.all(this.width, this.height);
    }
    const fresh = seen.fresh.within(this.width, this.height);
    if (fresh) this.compose(fresh, cross, ended && done);
    // Only what has changed is drawn: the wood, and where the bit was and is.
    const spot = this.mover;
    spot.add(seen.fresh);
    seen.fresh.clear();
    const now = this.moving(k, share, stage);
    spot.add(now);
    const part = spot.within(this.width, this.height);
    this.mover = now;
    if (!part) return done;
    c.save();
    c.setTransform(1, 0, 0, 1, 0, 0);
    c.beginPath(); c.rect(...part); c.clip();
    c.drawImage(this.wood, ...part, ...part);
    lay(c, this.fit);
    const thin = this.ratio / this.fit.scale;
    if (!ended) this.drawWay(k, share, thin);
    this.drawBit(k, share, thin, stage, ended);
    c.restore();
    return done;
  }

  /** What lies still, in a part of the picture. */
  compose(part, cross, whole) {
    const c = this.wood.getContext("2d");
    c.save();
    c.setTransform(1, 0, 0, 1, 0, 0);
    c.beginPath(); c.rect(...part); c.clip();
    c.fillStyle = this.colours.bench;
    c.fillRect(...part);
    if (cross) this.drawSection(c, part, whole); else c.drawImage(this.top.canvas, ...part, ...part);
    c.drawImage(this.over, ...part, ...part);
    c.restore();
  }

  drawSection(c, part, whole) {
    const [x0, y0, x1, y1] = this.film.stock, cut = this.cut.canvas, [, , wide, high] = part;
    // Browsers copy a canvas that is drawn on after it was drawn from: a small part goes through a small one.
    const canvas = this.spares.find((each) => wide <= each.width && high <= each.height), spare = canvas.getContext("2d");
    const at = [0, 0, wide, high];
    lay(c, this.fit);
    c.fillStyle = this.colours.section;
    c.fillRect(x0, y0, x1 - x0, y1 - y0);
    c.setTransform(1, 0, 0, 1, 0, 0);
    c.drawImage(cut, ...part, ...part);
    spare.save();
    spare.beginPath(); spare.rect(...at); spare.clip();
    spare.globalCompositeOperation = "copy";
    spare.drawImage(whole ? this.toGoWhole : this.toGo, ...part, ...at);
    spare.globalCompositeOperation = "destination-out";
    spare.drawImage(cut, ...part, ...at);
    c.globalAlpha = whole ? 1 : 0.35;
    c.drawImage(canvas, ...at, ...part);
    c.globalAlpha = 1;
    spare.globalCompositeOperation = "copy";
    spare.drawImage(cut, ...part, ...at);
    spare.globalCompositeOperation = "source-in";
    spare.fillStyle = this.colours.gouge;
    spare.fillRect(...at);
    spare.globalCompositeOperation = "destination-out";
    spare.drawImage(this.free, ...part, ...at);
    spare.restore();
    c.drawImage(canvas, ...at, ...part);
  }

  /** Where the bit and its way are drawn. */
  moving(k, share, stage) {
    const s = this.s, spot = new Spot(), room = 3 * this.ratio;
    if (!s.n) return spot;
    const last = Math.min(k, s.n - 1);
    for (let j = Math.max(0, Math.min(k, s.n) - TRAIL); j <= last; j++) spot.widen(this.fit, ...boxOf(s, j), room);
    const [x, y] = pointOn(s, k, share), tool = this.film.tools[s.tool[last]];
    let reach = 10 * this.ratio / this.fit.scale;
    if (tool) reach = Math.max(reach, ...tool.radii);
    if (stage) reach = Math.max(reach, stage.bushing.radius, this.film.base);
    spot.widen(this.fit, x - reach, y - reach, x + reach, y + reach, room);
    return spot;
  }

  drawKeepOuts(c, thin) {
    for (const { box: [x0, y0, x1, y1] } of this.film.keepOuts) {
      c.save();
      c.beginPath(); c.rect(x0, y0, x1 - x0, y1 - y0); c.clip();
      c.strokeStyle = this.colours.clamp;
      c.lineWidth = thin;
      c.strokeRect(x0, y0, x1 - x0, y1 - y0);
      c.beginPath();
      for (let d = 0; d < x1 - x0 + y1 - y0; d += 7 * thin) { c.moveTo(x0 + d, y0); c.lineTo(x0 + d - (y1 - y0), y1); }
      c.stroke();
      c.restore();
    }
  }

  /** The sheet lies on the board; only its openings are free. At the end it is lifted, and its outline stays. */
  drawSheet(c, thin, stage, ended) {
    const path = new Path2D();
    path.addPath(sheetPath(this.film.sheet), new DOMMatrix(stage.at));
    c.fillStyle = this.colours.sheet;
    c.strokeStyle = this.colours.bushing;
    c.lineWidth = 2 * thin;
    if (ended) {
      c.lineWidth = thin;
      c.setLineDash([8 * thin, 4 * thin]);
    } else {
      c.globalAlpha = 0.45;
      c.fill(path, "evenodd");
      c.globalAlpha = 1;
    }
    c.stroke(path);
    c.setLineDash([]);
  }

  drawPlaces(c, thin) {
    const { corners, lefts, gouges } = this.film.proof;
    for (const [places, colour] of [[corners, this.colours.left], [lefts, this.colours.left], [gouges, this.colours.gouge]]) {
      c.strokeStyle = colour;
      c.lineWidth = 2 * thin;
      for (const [x, y] of places) { c.beginPath(); c.arc(x, y, 7 * thin, 0, 2 * Math.PI); c.stroke(); }
    }
  }

  drawWay(k, share, thin) {
    const c = this.context, s = this.s;
    if (!s.n) return;
    const first = Math.max(0, Math.min(k, s.n) - TRAIL);
    let pen = "";
    for (let j = first; j < s.n && j <= k; j++) {
      const kind = s.way[j] === CUT ? "cut" : "air";
      if (kind !== pen) {
        if (pen) c.stroke();
        c.beginPath();
        c.setLineDash(kind === "air" ? [2 * thin, 3 * thin] : []);
        c.strokeStyle = this.colours.way;
        c.lineWidth = thin;
        const [x, y] = pointOn(s, j, 0);
        c.moveTo(x, y);
        pen = kind;
      }
      trace(c, s, j, 0, j === k ? share : 1);
    }
    if (pen) c.stroke();
    c.setLineDash([]);
  }

  drawZero(c, thin) {
    const r = 6 * thin;
    c.strokeStyle = c.fillStyle = this.colours.line;
    c.lineWidth = 1.2 * thin;
    c.beginPath(); c.arc(0, 0, r, 0, 2 * Math.PI); c.stroke();
    c.beginPath(); c.moveTo(0, 0); c.arc(0, 0, r, 0, Math.PI / 2); c.closePath(); c.fill();
    c.beginPath(); c.moveTo(0, 0); c.arc(0, 0, r, Math.PI, 1.5 * Math.PI); c.closePath(); c.fill();
  }

  drawBit(k, share, thin, stage, ended) {
    const c = this.context, s = this.s, film = this.film;
    if (!s.n) return;
    const [x, y] = pointOn(s, k, share), tool = film.tools[s.tool[Math.min(k, s.n - 1)]];
    const ring = (radius, colour, wide, dash) => {
      if (!(radius > 0)) return;
      c.strokeStyle = colour; c.lineWidth = wide * thin; c.setLineDash(dash.map((d) => d * thin));
      c.beginPath(); c.arc(x, y, radius, 0, 2 * Math.PI); c.stroke();
      c.setLineDash([]);
    };
    if (stage && !ended) {
      ring(film.base, this.colours.line, 1, [8, 3, 2, 3]);
      ring(stage.bushing.radius, this.colours.bushing, 3, []);
    }
    if (tool) {
      const tip = Math.max(0, radiusAt(tool, 1e-6)), wide = Math.max(tip, radiusAt(tool, tool.cutting * 0.999));
      c.globalAlpha = 0.35;
      c.fillStyle = this.colours.bit;
      c.beginPath(); c.arc(x, y, Math.max(wide, tip), 0, 2 * Math.PI); c.fill();
      c.globalAlpha = 1;
      ring(wide, this.colours.bit, 2, []);
      if (tip && Math.abs(tip - wide) > 1e-3) ring(tip, this.colours.bit, 1, [3, 2]);
    }
    c.strokeStyle = this.colours.bit; c.lineWidth = thin;
    c.beginPath();
    c.moveTo(x - 9 * thin, y); c.lineTo(x + 9 * thin, y); c.moveTo(x, y - 9 * thin); c.lineTo(x, y + 9 * thin);
    c.stroke();
  }

  /** A bar of a round length, lower left. */
  drawScale(c) {
    const r = this.ratio, unit = UNITS === "in" ? 25.4 : 1;
    const most = this.width * 0.2 / this.fit.scale / unit;
    const steps = UNITS === "in" ? [0.125, 0.25, 0.5, 1, 2, 3, 6, 12, 24] : [1, 2, 5, 10, 20, 50, 100, 200, 500];
    const size = steps.filter((each) => each <= most).pop() ?? steps[0];
    const long = size * unit * this.fit.scale, x = 10 * r, y = this.height - 10 * r;
    c.setTransform(1, 0, 0, 1, 0, 0);
    c.fillStyle = this.colours.bench; c.globalAlpha = 0.8;
    c.fillRect(x - 4 * r, y - 20 * r, Math.max(long, 40 * r) + 8 * r, 26 * r);
    c.globalAlpha = 1;
    c.strokeStyle = c.fillStyle = this.colours.text;
    c.lineWidth = 1.5 * r;
    c.beginPath();
    c.moveTo(x, y - 4 * r); c.lineTo(x, y); c.lineTo(x + long, y); c.lineTo(x + long, y - 4 * r);
    c.stroke();
    c.font = `${11 * r}px system-ui, sans-serif`;
    c.fillText(`${size} ${UNITS}`, x, y - 7 * r);
  }

  /** How deep the floor lies along the line through a y, as it is seen from above: mm, by x. */
  floorAt(y) {
    const [, y0, , y1] = this.film.stock;
    const inside = Math.min(Math.max(y, y0 + 1.6 / this.fit.scale), y1 - 1.6 / this.fit.scale);
    const at = Math.min(this.height - 1, Math.max(0, Math.floor(this.fit.top - this.fit.scale * inside)));
    const c = this.row.getContext("2d", { willReadFrequently: true });
    c.globalCompositeOperation = "copy";
    c.drawImage(this.top.canvas, 0, at, this.width, 1, 0, 0, this.width, 1);
    const data = c.getImageData(0, 0, this.width, 1).data, depths = new Float64Array(this.width);
    const top = rgb(this.colours.wood)[0], bottom = rgb(this.colours.deep)[0], deep = deepest(this.film);
    for (let dot = 0; dot < this.width; dot++) {
      const t = (data[4 * dot] - top) / (bottom - top);
      depths[dot] = data[4 * dot + 3] < 200 || t < 0.06 ? 0 : Math.min(1, Math.max(0, (t - 0.12) / 0.88)) * deep;
    }
    // A dot that is half on a wall has neither height: it takes that of the side on which most of it lies.
    for (let dot = 1; dot + 1 < this.width; dot++) {
      const [left, here, right] = [depths[dot - 1], depths[dot], depths[dot + 1]];
      if ((left - here) * (here - right) > 0 && Math.abs(left - right) > STEEP * deep) {
        depths[dot] = Math.abs(here - left) < Math.abs(here - right) ? left : right;
      }
    }
    return (x) => {
      const dot = Math.floor(this.fit.left + this.fit.scale * x);
      return dot < 0 || dot >= this.width ? 0 : depths[dot];
    };
  }
}
