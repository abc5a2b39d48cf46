// The player: one film at a time, one place in it, and everything on the page that follows from them.

const BEHIND = 300; // ms from which wood that is not painted yet is told of
const QUIET = 350; // ms after which a place that was gone to is said
const PACES = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000];
const WHOLE = 30; // s that a file takes about, at the pace that it begins with
const TENTH = 10; // parts of the file that page up and page down go

const $ = (id) => document.getElementById(id);

class Player {
  constructor(data) {
    this.films = data.films;
    UNITS = data.units;
    this.plan = new PlanView($("plan"));
    this.front = new FrontView($("front"));
    this.code = new CodeView($("code"));
    this.pictures = new Pictures();
    this.budget = new Budget();
    this.mode = "above";
    this.close = true;
    this.playing = false;
    this.dirty = false;
    this.told = "";
    $("job").textContent = data.job;
    this.list = new FilmList($("film"), this.films);
    this.painted = new MessageChannel();
    this.painted.port1.onmessage = ({ data: [begun, between] }) => this.budget.learn(performance.now() - begun, between);
    this.listen();
    if (this.films.length) { this.choose(this.list.wanted() ?? 0); } else { this.nothing(); }
  }

  /** A film that somebody has asked for: the address says so, and can be kept. */
  pick(number) {
    if (number === undefined) return;
    this.choose(number);
    try { history.replaceState(null, "", `#${encodeURI(this.film.name)}`); } catch { /* Some viewers have no address. */ }
  }

  nothing() {
    for (const id of ["film", "before", "after", "time", "height", "play", "pace", "whole", "close", "above", "cross"]) $(id).disabled = true;
    this.say("All of this job is made by hand: there is no file to play.");
  }

  // ---- which film

  choose(number) {
    this.film = this.films[number];
    this.number = number;
    $("before").disabled = this.list.beside(number, -1) === undefined;
    $("after").disabled = this.list.beside(number, 1) === undefined;
    delete document.body.dataset.ended;
    $("film").value = String(number);
    this.s = readStrokes(this.film);
    this.time = 0;
    this.stop();
    this.heightIndex = this.lowest();
    const total = this.s.time[this.s.n];
    // Rounded up, so that the end of the slider is the end of the file whatever digits a browser keeps.
    $("time").max = String(Math.ceil(total * 1000) / 1000);
    $("height").max = String(Math.max(0, this.film.heights.length - 1));
    $("height").value = String(this.heightIndex);
    $("pace").replaceChildren(...PACES.map((pace) => new Option(pace === 1 ? "real time" : `${pace} times`, String(pace))));
    const wanted = PACES.find((pace) => total / pace <= WHOLE) ?? PACES[PACES.length - 1];
    $("pace").value = String(wanted);
    this.code.lay(this.film);
    $("code-name").textContent = this.film.kind === "ride" ? "By hand" : "The file";
    this.faults([]);
    $("agreement").hidden = true;
    $("facts").replaceChildren(...this.film.facts.flatMap(([name, value]) => [element("dt", name), element("dd", value)]));
    const bits = [...new Set(Object.values(this.film.tools).map((tool) => tool.name))].join("; ");
    $("facts").append(element("dt", bits.includes(";") ? "bits" : "bit"), element("dd", bits));
    this.layOut();
    this.say(`${this.film.name}: ${this.s.n} moves, ${lengthOfFilm(this.film)}.`);
  }

  /** The lowest height at which something has to go. */
  lowest() {
    let found = 0;
    this.film.heights.forEach((height, k) => { if (this.film.drawings[height.drawing].area > 0 || height.engraved) found = k; });
    return found;
  }

  layOut() {
    this.plan.lay(this.film, this.s, this.close, this.heightIndex);
    this.front.lay(this.film);
    this.legend();
    this.heightSaid();
    this.dirty = true;
    this.wake();
  }

  legend() {
    const rows = this.mode === "above"
      ? [["depth", `from the face to ${lengthWords(deepest(this.film))} deep`]]
      : [["section", "wood"], ["gone", "gone"], ["toGo", "has still to go"], ["gouge", "cut too far"]];
    rows.push(["drawn", "as drawn"], ["bit", "bit"], ["way", "its way: cutting, dotted in the air"]);
    if (this.film.sheet) rows.push(["bushing", "bushing, opening of the sheet; at the end the sheet is lifted"]);
    if (this.film.keepOuts.length) rows.push(["clamp", this.film.keepOuts.map((each) => each.name).join(", ")]);
    if (this.film.proof.corners.length) rows.push(["left", "for the chisel"]);
    if (Object.values(this.film.tools).some((tool) => tool.undercuts)) {
      rows.push(["hidden", "overhangs hide what is cut under them: see the section"]);
    }
    $("legend").replaceChildren(...rows.map(([kind, text]) => {
      const made = element("span", text, `key key-${kind}`);
      return made;
    }));
  }

  // ---- where in it

  get ended() { return this.time >= this.s.time[this.s.n]; }

  go(time, by) {
    this.time = Math.min(Math.max(0, time), this.s.time[this.s.n]);
    this.dirty = true;
    if (by !== "play") {
      clearTimeout(this.quiet);
      this.quiet = setTimeout(() => this.sayPlace(), QUIET);
    }
    this.wake();
  }

  /** To the end of the move that is under way, or of the one before. */
  step(by) {
    const s = this.s, { k, share } = strokeAt(s, this.time);
    let to = by > 0 ? k + 1 : share > 0 ? k : k - 1;
    // Moves without a length take no time: one is gone on to that does.
    while (to > 0 && to < s.n && s.time[to] === this.time) to += by;
    this.stop();
    this.go(s.time[Math.min(Math.max(0, to), s.n)]);
  }

  play() {
    if (!this.film) return;
    if (this.ended) this.time = 0;
    this.playing = true;
    this.before = performance.now();
    $("play-sign").textContent = "❚❚";
    $("play-word").textContent = "Stop";
    this.wake();
  }

  stop() {
    const was = this.playing;
    this.playing = false;
    $("play-sign").textContent = "▶";
    $("play-word").textContent = "Play";
    if (was) this.sayPlace();
  }

  // ---- frames

  wake() {
    if (!this.frame) this.frame = requestAnimationFrame((now) => this.turn(now));
  }

  turn(now) {
    this.frame = 0;
    if (!this.film) return;
    if (this.playing) {
      this.go(this.time + Math.max(0, now - this.before) / 1000 * Number($("pace").value), "play");
      this.before = now;
      if (this.ended) this.stop();
    }
    const { k, share } = strokeAt(this.s, this.time), begun = performance.now();
    const done = this.plan.draw(k, share, this.mode, Math.round(this.budget.most), this.ended);
    this.drawFront(k, share);
    // Browsers paint later than they are told: a message that waits its turn behind that says how long all of it took.
    this.painted.port2.postMessage([begun, now - (this.shown ?? now)]);
    this.shown = now;
    this.placed(k);
    this.code.show(this.s.n ? this.s.line[Math.min(k, this.s.n - 1)] : 0);
    $("time").value = this.ended ? $("time").max : String(this.time);
    $("clock").textContent = `${clockWords(this.time, this.ended, this.film.seconds)} of ${clockWords(0, true, this.film.seconds)}`;
    this.lag(done, k, now);
    this.frames = (this.frames ?? 0) + 1;
    document.body.dataset.drawn = done ? "all" : "some";
    if (this.playing || !done) this.wake(); else this.dirty = false;
  }

  /** Which of several places is cut. */
  placed(k) {
    const stages = this.film.stages, several = stages && stages.length > 1;
    const text = !several ? "" : this.ended ? `all ${stages.length}, the sheet lifted` : stageAt(this.film, k).name;
    if ($("place").textContent !== text) $("place").textContent = text;
    $("place").hidden = !several;
  }

  drawFront(k, share) {
    const s = this.s, place = pointOn(s, k, share);
    const tool = s.n ? this.film.tools[s.tool[Math.min(k, s.n - 1)]] : null;
    const height = this.film.heights[this.heightIndex] ?? { z: 0 };
    this.front.draw(place, tool, this.plan.floorAt(place[1]), height.z, heightWords(height), this.ended ? undefined : stageAt(this.film, k));
  }

  /** Where the machine is too slow for it, the page says what it leaves out: pictures between, and wood. */
  lag(done, k, now) {
    if (this.playing) this.pictures.add(now, k); else this.pictures.clear();
    const painter = this.mode === "cross" && this.plan.cut ? this.plan.cut : this.plan.top;
    if (done) this.late = undefined; else this.late ??= now;
    const behind = this.late !== undefined && now - this.late > BEHIND
      ? `The wood lags: ${painter.k} of ${k} moves are painted.` : "";
    const words = [this.pictures.said, behind].filter(Boolean).join(" ");
    if ($("lag").textContent === words) return;
    $("lag").textContent = words;
    $("keys").classList.toggle("under", Boolean(words));
  }

  // ---- words

  say(text) {
    if (text === this.told) return;
    this.told = text;
    $("said").textContent = text;
  }

  sayPlace() {
    clearTimeout(this.quiet);
    const { k, share } = strokeAt(this.s, this.time);
    const words = underWay(this.film, this.s, k, share, this.code);
    $("time").setAttribute("aria-valuetext", words);
    if (this.ended) this.sayEnd(); else {
      this.say(words);
      this.faults([]);
      $("agreement").hidden = true;
      delete document.body.dataset.ended;
    }
    this.heightSaid();
  }

  faults(lines) {
    $("faults").replaceChildren(...lines.map(([kind, text]) => element("li", text, kind)));
    $("faults").hidden = !lines.length;
  }

  sayEnd() {
    const rows = this.agreement();
    const known = rows.filter((row) => row.agrees !== null);
    const wrong = known.filter((row) => !row.agrees);
    const judged = !known.length ? ` The picture gives no sum of its own: the file has too many moves.`
      : wrong.length ? ` The picture's own sum differs at ${wrong.map((row) => row.at).join(", ")}.`
        : ` The picture's own sum agrees${known.length < rows.length ? " where it has one" : ""}.`;
    this.say(verdictWords(this.film) + judged);
    const lines = faultLines(this.film);
    for (const row of rows) {
      const least = row.sum ? 4 * row.sum.dot * row.sum.dot : 0;
      if (row.sum && row.sum.gouge > least) lines.push(["gouge", `${row.at}: ${areaWords(row.sum.gouge)} cut beyond the drawing, by the picture`]);
      if (row.sum && row.sum.left > least) lines.push(["left", `${row.at}: ${areaWords(row.sum.left)} of the drawing not cut, by the picture`]);
    }
    this.faults(lines);
    $("agreement").hidden = !rows.length;
    $("agreement").tBodies[0].replaceChildren(...rows.map((row) => {
      const made = document.createElement("tr");
      made.dataset.agrees = String(row.agrees);
      made.append(element("td", row.at), element("td", row.proof), element("td", row.own),
        element("td", row.agrees === null ? "not summed" : row.agrees ? "yes" : "no"));
      return made;
    }));
    document.body.dataset.ended = wrong.length ? "differs" : known.length ? "agrees" : "unsummed";
  }

  /** What the proof and the picture come to at the end: the depth, and the area at each height that the proof measured. */
  agreement() {
    if (this.film.agreement) return this.film.agreement;
    const film = this.film, s = this.s, depth = film.proof.depth;
    let low = 0;
    for (let k = 0; k < s.n; k++) if (s.way[k] === CUT) low = Math.min(low, s.z0[k], s.z1[k]);
    const own = Math.min(-low, film.stock[4]);
    const rows = [{ at: "deepest", proof: lengthWords(depth), own: lengthWords(own), agrees: Math.abs(own - depth) < 1e-3, sum: null }];
    for (const height of film.heights) {
      if (height.area === undefined) continue;
      const sum = sumAt(film, s, height, s.n, 0);
      rows.push({
        at: heightWords(height) + (height.engraved ? ", engraved" : ""), proof: areaWords(height.area), own: sum ? areaWords(sum.area) : "–",
        agrees: sum ? Math.abs(sum.area - height.area) <= slackOf(height, sum) : null, sum,
      });
    }
    film.agreement = rows;
    return rows;
  }

  /** The height of the section, and how much of what has to go there is gone. */
  heightSaid() {
    const height = this.film.heights[this.heightIndex];
    if (!height) return;
    const drawing = this.film.drawings[height.drawing];
    $("height-said").textContent = heightWords(height);
    $("height").setAttribute("aria-valuetext", heightWords(height));
    const { k, share } = strokeAt(this.s, this.time);
    if (this.playing || this.s.n > SUM_MOST) { $("height-words").textContent = ""; return; }
    const sum = sumAt(this.film, this.s, height, k, share);
    if (!sum) { $("height-words").textContent = "Too many moves to sum."; return; }
    const standing = Math.round(100 * sum.standing / drawing.area);
    const rest = standing ? `${standing === 100 ? "all" : `${standing} %`} of it still stands` : "none of it still stands";
    const words = [`Gone there: ${areaWords(sum.area)}${height.engraved ? ", of engraved lines" : ""}.`];
    if (drawing.area > 0) words.push(`Has to go: ${areaWords(drawing.area)}; ${rest}.`);
    words.push(sum.gouge > 4 * sum.dot * sum.dot ? `Cut too far: ${areaWords(sum.gouge)}.` : "Nothing there is cut too far.");
    $("height-words").textContent = words.join(" ");
  }

  /** A section that was asked for is told to who cannot see it; what the file is at is told again when it moves on. */
  sectionSaid() {
    this.heightSaid();
    if (this.playing) return;
    this.say(`Section at ${$("height-said").textContent}. ${$("height-words").textContent}`);
  }

  // ---- what people do

  setHeight(index) {
    const last = this.film.heights.length - 1;
    this.heightIndex = Math.min(Math.max(0, index), last);
    $("height").value = String(this.heightIndex);
    this.plan.section(this.heightIndex);
    this.setMode("cross");
    $("height-said").textContent = heightWords(this.film.heights[this.heightIndex]);
    $("height").setAttribute("aria-valuetext", $("height-said").textContent);
    clearTimeout(this.heightQuiet);
    this.heightQuiet = setTimeout(() => this.sectionSaid(), QUIET);
  }

  setMode(mode) {
    this.mode = mode;
    $("above").setAttribute("aria-pressed", String(mode === "above"));
    $("cross").setAttribute("aria-pressed", String(mode === "cross"));
    this.legend();
    this.wake();
  }

  setClose(close) {
    this.close = close;
    $("whole").setAttribute("aria-pressed", String(!close));
    $("close").setAttribute("aria-pressed", String(close));
    this.layOut();
  }

  listen() {
    $("film").addEventListener("change", () => this.pick(Number($("film").value)));
    $("before").addEventListener("click", () => this.pick(this.list.beside(this.number, -1)));
    $("after").addEventListener("click", () => this.pick(this.list.beside(this.number, 1)));
    window.addEventListener("hashchange", () => { const found = this.list.wanted(); if (found !== undefined) this.choose(found); });
    $("play").addEventListener("click", () => (this.playing ? this.stop() : this.play()));
    $("time").addEventListener("input", () => { this.playing = false; this.stop(); this.go(Number($("time").value)); });
    $("height").addEventListener("input", () => this.setHeight(Number($("height").value)));
    $("above").addEventListener("click", () => this.setMode("above"));
    $("cross").addEventListener("click", () => this.setMode("cross"));
    $("whole").addEventListener("click", () => this.setClose(false));
    $("close").addEventListener("click", () => this.setClose(true));
    document.addEventListener("keydown", (event) => this.key(event));
    const front = $("front");
    const drag = (event) => {
      const z = this.front.zAt((event.clientY - front.getBoundingClientRect().top) * this.front.ratio);
      let best = 0;
      this.film.heights.forEach((height, k) => {
        if (Math.abs(height.z - z) < Math.abs(this.film.heights[best].z - z)) best = k;
      });
      if (best !== this.heightIndex || this.mode !== "cross") this.setHeight(best);
    };
    front.addEventListener("pointerdown", (event) => {
      if (!this.film || !this.film.heights.length) return;
      front.setPointerCapture(event.pointerId);
      drag(event);
    });
    front.addEventListener("pointermove", (event) => { if (front.hasPointerCapture(event.pointerId)) drag(event); });
    const again = () => { if (this.film) this.layOut(); };
    new ResizeObserver(again).observe($("plan"));
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", again);
  }

  key(event) {
    if (!this.film || event.ctrlKey || event.altKey || event.metaKey) return;
    const on = document.activeElement, inSlider = on === $("time");
    if (event.key === " " && !(on instanceof HTMLButtonElement) && !(on instanceof HTMLSelectElement)) {
      event.preventDefault();
      if (this.playing) this.stop(); else this.play();
      return;
    }
    if (on !== document.body && !inSlider && on !== $("play")) return;
    const total = this.s.time[this.s.n], part = total / TENTH;
    const act = {
      ArrowRight: () => this.step(1), ArrowUp: () => this.step(1),
      ArrowLeft: () => this.step(-1), ArrowDown: () => this.step(-1),
      PageUp: () => this.go(this.time + part), PageDown: () => this.go(this.time - part),
      Home: () => this.go(0), End: () => this.go(total),
    }[event.key];
    // Off the slider, keys that move the page up and down stay the page's own.
    if (!act || (!inSlider && !/^Arrow(Left|Right)$/.test(event.key))) return;
    event.preventDefault();
    if (!/^Arrow/.test(event.key)) this.stop();
    act();
  }
}

window.jigcamPlayer = new Player(JSON.parse($("data").textContent));
