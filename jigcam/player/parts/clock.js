// The clock: how far the file is, in its own time, and how many pictures a second the machine that shows it manages.

const ENOUGH = 30; // pictures a second: with fewer the page says what it leaves out
const AGAIN = 33; // from which it says so no more
const LOOKED = 1000; // ms over which pictures are counted
const FEW = 5; // pictures from which their number says something
const LEAST = 150, FIRST = 400, MOST = 20000; // strokes painted for one picture
const SLOW = 24, WANTED = 18, QUICK = 10; // ms that painting takes: from which fewer are painted, as long as it may, and more again
const LATE = 30, SOON = 24; // ms between two pictures: from which painting is looked at, and below which more are painted
const FORGET = 1.02, SLOWLY = 1.05; // by which the least time grows from picture to picture, and strokes where there is room
const MORE = 1.25; // times as many as before, where that was quick enough

/** As it is said at the machine, and on the setup sheet: 5 min 34 s. */
function minuteWords(seconds) {
  return `${Math.floor(seconds / 60)} min ${String(seconds % 60).padStart(2, "0")} s`;
}

/** Whole minutes and seconds of a moment that is under way; most: s that the file takes, as its sheet says it. */
function clockWords(time, ended, most) {
  const whole = ended ? most : Math.min(Math.floor(time), most);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
}

/** How long a film takes, in words: of a file as its setup sheet has it; no hand is timed. */
function lengthOfFilm(film) {
  if (film.kind === "ride") return `${minuteWords(film.seconds)} at the pace shown, which is no measure of your hands`;
  return `about ${minuteWords(film.seconds)}, as on the setup sheet`;
}

/** Pictures a second, counted while a film plays, and the moves that each stands for. */
class Pictures {
  constructor() { this.clear(); }

  clear() { this.seen = []; this.slow = false; this.said = ""; this.since = -Infinity; }

  /** A picture at a time, ms, in which the bit is on stroke k. */
  add(now, k) {
    this.seen.push([now, k]);
    while (this.seen.length > FEW && now - this.seen[0][0] > LOOKED) this.seen.shift();
    const [[first, from]] = this.seen, long = now - first;
    if (this.seen.length < FEW || long < LOOKED / 4) return;
    const rate = (this.seen.length - 1) / long * 1000;
    this.slow = rate < (this.slow ? AGAIN : ENOUGH);
    if (!this.slow) { this.said = ""; return; }
    // Said anew twice a second at the most: nobody reads faster.
    if (this.said && now - this.since < LOOKED / 2) return;
    const each = Math.max(0, Math.round((k - from) / (this.seen.length - 1)));
    const left = each > 1 ? `each leaves out ${each - 1} places of the bit, but no cut` : "the bit goes by jerks, and nothing is left out";
    this.said = `A slow machine, ${Math.max(1, Math.floor(rate))} pictures a second: ${left}.`;
    this.since = now;
  }
}

/** How many strokes the next picture may take. */
class Budget {
  constructor() { this.most = FIRST; this.least = Infinity; }

  /** took: how long the last picture took; between: from the one before to it, ms. What other programs take of the
   * machine's time is no reason to paint less, nor is what a picture takes with next to nothing to paint, the least that
   * one took of late: wood may always have half as much again. */
  learn(took, between) {
    this.least = Math.min(took, this.least * FORGET);
    const slow = Math.max(SLOW, 2 * this.least), wanted = Math.max(WANTED, 1.5 * this.least);
    if (took < QUICK || between < SOON) this.most = Math.min(MOST, this.most * MORE);
    else if (took > slow && between > LATE) this.most = Math.max(LEAST, this.most * Math.max(0.5, wanted / took));
    else if (took < wanted) this.most = Math.min(MOST, this.most * SLOWLY);
  }
}
