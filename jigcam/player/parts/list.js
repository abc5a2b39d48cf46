// The list of films: those of a joint together, one after the other, each with an address of its own.

class FilmList {
  constructor(select, films) {
    Object.assign(this, { select, films });
    const groups = new Map(), several = new Set(films.map((film) => film.group)).size > 1;
    films.forEach((film, k) => {
      const group = film.group ?? "";
      if (!groups.has(group)) {
        const made = group && several ? document.createElement("optgroup") : select;
        if (made !== select) { made.label = group; select.append(made); }
        groups.set(group, made);
      }
      groups.get(group).append(new Option(film.name, String(k)));
    });
  }

  /** The film that the address asks for, as in page.html#trays/groove.nc; undefined where it names none. */
  wanted() {
    let name = location.hash.slice(1);
    try { name = decodeURIComponent(name); } catch { /* A name with a lone percent sign is taken as it stands. */ }
    const found = this.films.findIndex((film) => film.name === name);
    return found < 0 ? undefined : found;
  }

  /** The film so many places after another in the list; undefined beyond its ends. */
  beside(number, by) {
    const order = [...this.select.options].map((each) => Number(each.value));
    return order[order.indexOf(number) + by];
  }
}
