// Words: all that the picture shows, said too. Text of people is only ever written as text.

const AROUND = 3; // lines of the file shown before and after the one that is run
let UNITS = "mm";

function lengthWords(mm) {
  return UNITS === "in" ? `${(mm / 25.4).toFixed(3)} in` : `${mm.toFixed(2)} mm`;
}

function areaWords(mm2) {
  return UNITS === "in" ? `${(mm2 / 645.16).toFixed(3)} in²` : `${mm2.toFixed(1)} mm²`;
}

function heightWords(height) {
  // A section is taken a micron off a floor or a face: that is the floor, or the face, to whoever reads it.
  const plain = lengthWords(Math.abs(height.at ?? height.z));
  return Number.parseFloat(plain) === 0 ? "the face" : `${plain} deep`;
}

function placeWords([x, y, z]) {
  // Nothing is written as minus nothing.
  const number = (value) => (UNITS === "in" ? (value / 25.4).toFixed(3) : value.toFixed(2)).replace(/^-(0\.0*)$/, "$1");
  return `x ${number(x)}, y ${number(y)}, z ${number(z)} ${UNITS}`;
}

function element(name, text, kind) {
  const made = document.createElement(name);
  made.textContent = text;
  if (kind) made.className = kind;
  return made;
}

/** The lines of the file round the one that is run. */
class CodeView {
  constructor(list) { this.list = list; this.line = -1; }

  lay(film) {
    this.lines = film.text ? film.text.split("\n") : [];
    this.line = -1;
    this.list.replaceChildren();
    this.list.className = film.kind === "ride" ? "words" : "";
  }

  show(line) {
    if (line === this.line || !this.lines.length) return;
    this.line = line;
    const first = Math.max(1, Math.min(line - AROUND, this.lines.length - 2 * AROUND));
    const rows = [];
    for (let n = first; n <= Math.min(this.lines.length, first + 2 * AROUND); n++) {
      const row = element("li", this.lines[n - 1] || " ");
      row.value = n;
      if (n === line) row.setAttribute("aria-current", "true");
      rows.push(row);
    }
    this.list.replaceChildren(...rows);
  }

  text(line) { return (this.lines[line - 1] || "").trim(); }
}

/** What is under way, in a sentence. */
function underWay(film, s, k, share, code) {
  if (!s.n) return "Nothing moves in this file.";
  const at = Math.min(k, s.n - 1), tool = film.tools[s.tool[at]];
  const waits = !share && k < s.n && s.wait[k] ? s.pauses.get(k).words : "";
  const doing = waits ? waits : s.way[at] === RAPID ? "a rapid" : s.way[at] === CUT ? "cutting" : "in the air";
  const line = `, ${film.kind === "ride" ? "step" : "line"} ${s.line[at]}: ${code.text(s.line[at]).replace(/\.$/, "")}`;
  const bit = tool ? `Bit ${tool.name} at ` : "The bit at ";
  return `Move ${at + 1} of ${s.n}${line}. ${bit}${placeWords(pointOn(s, k, share))}, ${doing}.`;
}

/** How it ends: what the proof found, in words. */
function verdictWords(film) {
  const { gouge, left, depth, corners } = film.proof;
  const fine = UNITS === "in" ? 0.00254 : 0.001;
  const far = gouge < fine ? "nothing is cut too far" : `cut too far by ${lengthWordsFine(gouge)} at the most`;
  const rest = left < fine ? "nothing is left over" : `${lengthWordsFine(left)} left over at the most`;
  const lines = film.proof.engraved;
  const cut = lines
    ? `${lines.lines} lines are engraved ${lengthWords(lines.depth)} deep, ${lengthWords(lines.length)} in all, ${lines.whole ? "and the tip went along each of them" : "but not all of them"}`
    : `it cuts ${lengthWords(depth)} deep`;
  const chisel = corners.length
    ? ` For the chisel: ${corners.length} corner${corners.length > 1 ? "s" : ""} of up to ${lengthWords(Math.max(...corners.map((c) => c[3])))}.`
    : "";
  return `Done. The proof: ${far}, ${rest}; ${cut}.${chisel}`;
}

function lengthWordsFine(mm) {
  return UNITS === "in" ? `${(mm / 25.4).toFixed(4)} in` : `${mm.toFixed(3)} mm`;
}

/** Places where something is left or cut too far, a line each. */
function faultLines(film) {
  const { corners, lefts, gouges } = film.proof;
  const lines = [];
  for (const each of gouges) lines.push(["gouge", `cut too far by ${lengthWordsFine(each[3])} at ${placeWords(each)}`]);
  for (const each of lefts) lines.push(["left", `${lengthWordsFine(each[3])} left over at ${placeWords(each)}`]);
  for (const each of corners) lines.push(["left", `for the chisel: ${lengthWords(each[3])} at ${placeWords(each)}`]);
  return lines;
}
