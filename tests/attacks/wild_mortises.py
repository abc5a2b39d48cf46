"""Mortises far beyond the usual, for `attacks.jobs`."""

from __future__ import annotations

import random
from collections.abc import Iterator

from support.jobs import Table


def wild_mortise(dice: random.Random) -> Table:
    """Mortises of any size in faces and ends, in rows or with mates, near the edge or through it, by every way."""

    def size(low: float, high: float) -> float:
        return round(dice.uniform(low, high), 2)

    def board() -> Table:
        return {"length": size(80, 500), "width": size(30, 200), "thickness": size(10, 42)}

    def placed(at: Table) -> Table:
        if dice.random() < 0.5:
            where = {"face": dice.choice(("inside", "outside"))}
            middle = [at["length"] * dice.uniform(0.2, 0.8), at["width"] * dice.uniform(0.3, 0.7)]
        else:
            where = {"end": dice.choice(("left", "right"))}
            middle = [at["width"] * dice.uniform(0.3, 0.7), at["thickness"] * dice.uniform(0.4, 0.6)]
        return {
            **where,
            "at": [round(v, 2) for v in middle],
            "angle": dice.choice((0, 0, 90, 180, dice.randrange(360))),
        }

    boards = {"post": board(), "rail": board()}
    width = dice.choice((6, 6.35, 8, 10, 12, 12.004, size(3, 25)))
    entry: Table = {
        "name": "rail to post",
        "kind": "mortise",
        "way": dice.choice(("direct", "direct", "template", "hand")),
        "board": "post",
        **placed(boards["post"]),
        "length": round(width * dice.uniform(1.001, 6.0), 2) + 0.01,
        "width": width,
        "depth": size(2, 30),
        "clearance": dice.choice((0, 0.05, 0.1, 0.3)),
    }
    if dice.random() < 0.3:
        pitch = dice.choice((size(-90, 90), [size(-60, 60), size(-60, 60)]))
        entry["repeat"] = {"count": dice.randrange(2, 5), "pitch": pitch}
    if dice.random() < 0.5:
        entry["mate"] = {"board": "rail", **placed(boards["rail"])}
    joints = [entry, *_beside(entry, boards, dice)] if dice.random() < 0.3 else [entry]
    return {"job": "Sheet-music cabinet", "units": "mm", "boards": boards, "joints": joints}


def _beside(entry: Table, boards: Table, dice: random.Random) -> Iterator[Table]:
    """Up to two mortises more on one sheet with the first, near it, their mates as near to its mate or elsewhere.

    In boards that are large enough for most of them.
    """
    for board in boards.values():
        board |= {"length": round(dice.uniform(250, 500), 2), "width": round(dice.uniform(120, 260), 2)}
        board["thickness"] = round(dice.uniform(18, 42), 2)
    width = round(dice.uniform(13, 16), 2)
    entry |= {"way": "template", "template": "sheet", "width": width, "depth": round(dice.uniform(3, 13), 2)}
    entry |= {"length": round(width + dice.uniform(3, 30), 2)}
    for place in (entry, *([entry["mate"]] if "mate" in entry else [])):
        board = boards[place["board"]]
        across = (board["length"], board["width"]) if "face" in place else (board["width"], board["thickness"])
        place["at"] = [round(side * dice.uniform(0.4, 0.6), 2) for side in across]
        if "end" in place:
            place["angle"] = 0
    for name in ("second", "third")[: dice.randrange(1, 3)]:
        away = [round(dice.uniform(-70, 70), 1), round(dice.choice((0.0, dice.uniform(-60, 60))), 1)]
        if "end" in entry:
            away[1] = 0.0
        other = {**entry, "name": name, "at": [round(a + b, 2) for a, b in zip(entry["at"], away, strict=True)]}
        if "mate" in entry:
            signs = (dice.choice((1, 1, -1)), dice.choice((1, 1, -1)))
            at = [round(a + s * b, 2) for a, s, b in zip(entry["mate"]["at"], signs, away, strict=True)]
            other["mate"] = {**entry["mate"], "at": at}
        if dice.random() < 0.3:
            other.pop("repeat", None)
        yield other
