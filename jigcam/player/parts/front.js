// The view from the front: the bit, the wood along the line through it, and the height of the section, to be dragged.

class FrontView {
  constructor(canvas) {
    this.canvas = canvas;
    this.context = canvas.getContext("2d");
  }

  lay(film) {
    [this.width, this.height, this.ratio] = sized(this.canvas);
    this.colours = inks();
    const deep = Math.max(film.proof.depth, 4), thick = film.stock[4];
    this.low = -Math.min(thick * 1.12, deep * 1.2 + 2);
    this.high = Math.max(deep * 0.7, film.sheet ? film.sheet.thick * 1.3 : 0, 8);
    this.scale = this.height / (this.high - this.low);
    this.film = film;
  }

  yOf(z) { return (this.high - z) * this.scale; }
  zAt(y) { return this.high - y / this.scale; }

  draw(place, tool, floor, z, said, stage) {
    const c = this.context, { film, width, height, scale, colours, ratio } = this;
    const [x0, , x1, , thick] = film.stock, [bx, , bz] = place;
    const half = width / scale / 2;
    let middle = bx;
    if (x1 - x0 < 2 * half) middle = (x0 + x1) / 2;
    else middle = Math.min(Math.max(bx, x0 + half * 0.8), x1 - half * 0.8);
    const xOf = (x) => width / 2 + (x - middle) * scale, xAt = (dot) => middle + (dot - width / 2) / scale;
    c.setTransform(1, 0, 0, 1, 0, 0);
    c.fillStyle = colours.bench;
    c.fillRect(0, 0, width, height);
    c.fillStyle = colours.section;
    const from = Math.max(0, Math.floor(xOf(x0))), to = Math.min(width, Math.ceil(xOf(x1)));
    const bottom = Math.min(height, this.yOf(-thick));
    c.beginPath();
    c.moveTo(from, bottom);
    for (let dot = from; dot <= to; dot++) {
      c.lineTo(dot, Math.min(bottom, this.yOf(-floor(xAt(dot)))));
    }
    c.lineTo(to, bottom);
    c.closePath();
    c.fill();
    c.lineWidth = 1.4 * ratio;
    c.strokeStyle = colours.line;
    c.stroke();
    if (stage) this.drawSheet(xOf, xAt, place, stage);
    if (tool) this.drawBit(tool, xOf(bx), bz);
    const y = this.yOf(z);
    c.strokeStyle = colours.plane; c.fillStyle = colours.plane;
    c.lineWidth = 1.5 * ratio;
    c.setLineDash([10 * ratio, 3 * ratio, 2 * ratio, 3 * ratio]);
    c.beginPath(); c.moveTo(0, y); c.lineTo(width, y); c.stroke();
    c.setLineDash([]);
    for (const [x, way] of [[0, 1], [width, -1]]) {
      c.beginPath();
      c.moveTo(x + way * 14 * ratio, y); c.lineTo(x, y - 7 * ratio); c.lineTo(x, y + 7 * ratio);
      c.closePath(); c.fill();
    }
    c.font = `${12 * ratio}px system-ui, sans-serif`;
    c.textAlign = "right";
    const above = y > 22 * ratio ? y - 7 * ratio : y + 16 * ratio;
    const wide = c.measureText(said).width;
    c.fillStyle = colours.bench;
    c.fillRect(width - 22 * ratio - wide, above - 12 * ratio, wide + 8 * ratio, 15 * ratio);
    c.fillStyle = colours.plane;
    c.fillText(said, width - 18 * ratio, above);
    c.textAlign = "left";
  }

  /** The sheet along the line through the bit, with its opening, and the collar of the bushing in it. */
  drawSheet(xOf, xAt, [bx, by], stage) {
    const c = this.context, { film, colours, ratio } = this;
    const thick = film.sheet.thick, r = stage.bushing.radius * this.scale;
    const top = this.yOf(thick), face = this.yOf(0), path = sheetPath(film.sheet);
    c.globalAlpha = 0.5;
    c.fillStyle = colours.sheet;
    // Where the line through the bit runs over the sheet, as that lies: points are asked for in the frame of the board.
    c.save();
    c.setTransform(new DOMMatrix(stage.at));
    const solid = Array.from({ length: this.width }, (_, dot) => c.isPointInPath(path, xAt(dot + 0.5), by, "evenodd"));
    c.restore();
    for (let from = 0, dot = 0; dot <= this.width; dot++) {
      if (solid[dot] && !(dot && solid[dot - 1])) from = dot;
      if (!solid[dot] && dot && solid[dot - 1]) c.fillRect(from, top, dot - from, face - top);
    }
    c.globalAlpha = 1;
    c.strokeStyle = colours.bushing;
    c.lineWidth = 3 * ratio;
    const end = this.yOf(thick - stage.bushing.collar);
    c.beginPath();
    for (const x of [xOf(bx) - r, xOf(bx) + r]) { c.moveTo(x, top); c.lineTo(x, end); }
    c.stroke();
    c.lineWidth = 1.5 * ratio;
    c.beginPath(); c.moveTo(0, top); c.lineTo(this.width, top); c.stroke();
  }

  drawBit(tool, x, z) {
    const c = this.context, { scale, colours, ratio } = this;
    c.beginPath();
    for (const side of [1, -1]) {
      const order = [...tool.heights.keys()];
      if (side < 0) order.reverse();
      for (const k of order) c.lineTo(x + side * tool.radii[k] * scale, this.yOf(z + tool.heights[k]));
    }
    c.closePath();
    c.globalAlpha = 0.75;
    c.fillStyle = colours.bit;
    c.fill();
    c.globalAlpha = 1;
    c.strokeStyle = colours.bit;
    c.lineWidth = 1.5 * ratio;
    c.stroke();
  }
}
