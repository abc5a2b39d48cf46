"""Each board with all its joints on one drawing: faces, ends, sections square to each cut, and how each joint fits.

Faces are seen square with the lower edge down, ends square with the outside face down. Figures run from one origin, the
lower edge and the end at the left as seen, so that no error adds up. Kinds of line follow ISO 128-2, running dimensions
ISO 129-1 (both from memory).
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from jigcam.drawing.model import Dimension, Drawing, Item, Label, View
from jigcam.drawing.running import Running
from jigcam.drawing.scenes.board import seen_on
from jigcam.geometry import Region, chords, difference, mirror_x, rectangle, translation, union
from jigcam.piece.board_lines import as_the_job_has_it, carried_on, centreline_at, figure
from jigcam.piece.board_sections import across_the_cut, extremes, profile
from jigcam.piece.body import WITHIN, Body, body_of
from jigcam.wood.band import sides

if TYPE_CHECKING:
    from jigcam.job import Board
    from jigcam.units import Voice
    from jigcam.wood import Taken

BESIDE = 18.0
"""Of board that a section shows on each side of the cut, mm."""
OFF = 10.0
"""Of a line of figures from the board, mm on paper."""
SAME = 0.02
"""Places nearer to each other than this are one, mm."""
Mark = tuple[float, float, str]


def board_drawings(
    taken: Iterable[Taken],
    voice: Voice,
    fits: Mapping[str, Sequence[str]],
    title: str,
    other_hand: Mapping[str, Collection[str]] | None = None,
) -> dict[str, Drawing]:
    """A drawing for each board that is cut, by its name; of one that is cut for one hand alone, for that hand.

    fits: what is said of each joint's fit, by its name. title: of the piece. other_hand: by board the joints by which
    the mirrored one is held, its own or such as are the same in both.
    """
    boards: dict[str, dict[str, list[Body]]] = {}
    for each in taken:
        body = body_of(each)
        if body.box is not None:
            boards.setdefault(each.board.name, {}).setdefault(each.hand, []).append(body)
    held = other_hand or {}
    return {name: _drawing(hands, voice, fits, title, held.get(name, ())) for name, hands in boards.items()}


def _drawing(
    hands: Mapping[str, Sequence[Body]],
    voice: Voice,
    fits: Mapping[str, Sequence[str]],
    title: str,
    held: Collection[str],
) -> Drawing:
    hand = "as drawn" if "as drawn" in hands else "opposite"
    bodies = hands[hand]
    board = bodies[0].taken.board
    apart = _apart(bodies)
    faces = [side for side in ("outside", "inside") if any(_opens(body, side) for body in apart)] or ["outside"]
    letters = {body.taken.joint: chr(ord("A") + place % 26) for place, body in enumerate(apart)}
    rows: list[tuple[View, ...]] = [(_face(board, bodies, face, voice, letters),) for face in faces]
    ends = [_end(board, bodies, end, voice) for end in ("left", "right") if _reaches(bodies, end, board)]
    rows += [(view,) for view in (_alike(ends) if len(ends) > 1 else ends)]
    rows += [(_section(board, body, voice, letters[body.taken.joint]),) for body in apart]
    rows += [(view,) for view in _along_the_grain(board, bodies, voice)]
    facts = [
        ("board", board.name),
        ("size", voice.size(board.length, board.width, board.thickness)),
        ("wood", f"{board.wood or 'not said'}{f', {board.sawn} sawn' if board.sawn else ''}"),
        ("hand", _hand_words(hands, held)),
        ("figures", f"{'inches' if voice.inch else 'millimetres'} from the lower edge and the end at the left as seen"),
        ("piece", title),
    ]
    return Drawing(
        f"{board.name}, {title}",
        tuple(rows),
        voice.units,
        tuple(facts),
        tuple(_notes(board, bodies, fits, faces, voice)),
    )


def _hand_words(hands: Mapping[str, Sequence[Body]], held: Collection[str]) -> str:
    if len(hands) == 1:
        return "as drawn" if "as drawn" in hands else "the mirrored board alone"
    drawn, other = ({body.taken.joint for body in bodies} for bodies in hands.values())
    if drawn == other:
        return "one as drawn, and one that is its mirror image, left for right"
    both, same = drawn & other, (drawn & set(held)) - other
    groups = [
        ("one as drawn, and one that has these joints mirrored, left for right", both),
        ("in both alike", same),
        ("in the one as drawn alone", drawn - both - same),
    ]
    return "; ".join(f"{words}: {', '.join(sorted(names))}" for words, names in groups if names)


def _notes(
    board: Board, bodies: Sequence[Body], fits: Mapping[str, Sequence[str]], faces: Sequence[str], voice: Voice
) -> Iterable[str]:
    for face in faces:
        yield seen_on(board, face)
    for name in dict.fromkeys(body.taken.joint for body in bodies):
        whats = dict.fromkeys(body.taken.what for body in bodies if body.taken.joint == name)
        fit = "; ".join(fits.get(name, ())) or "its fit is made by hand"
        lined = [body for body in bodies if body.taken.joint == name and body.taken.centreline is not None]
        lines = "".join(
            f" Seen square at the {body.taken.face} face{f' ({body.taken.what})' if len(lined) > 1 else ''}, "
            f"{as_the_job_has_it(body, voice)}."
            for body in lined
        )
        yield f"{name}: {', '.join(whats)}; {fit}.{lines}"


def _opens(body: Body, face: str) -> bool:
    """Whether a body takes wood at a face."""
    depth = body.depths[0] if face == "outside" else body.taken.board.thickness - body.depths[-1]
    return depth < SAME


def _apart(bodies: Sequence[Body]) -> list[Body]:
    """A body of each joint that is no end joint: of those in a row the first."""
    found: dict[str, Body] = {}
    for body in bodies:
        if body.taken.end is None:
            found.setdefault(body.taken.joint, body)
    return list(found.values())


def _at_face(body: Body, face: str) -> Region:
    """What a body takes just below a face, as that face is seen."""
    board = body.taken.board
    if face == "outside":
        return body.section(body.depths[0] + WITHIN)
    return body.section(body.depths[-1] - WITHIN).transformed(mirror_x(board.length))


def _face(board: Board, bodies: Sequence[Body], face: str, voice: Voice, letters: Mapping[str, str]) -> View:
    """A face: the board without what end joints take at it, the other cuts, and dashed what does not open there."""
    length, width = board.length, board.width
    seen = [body for body in bodies if _opens(body, face)]
    off = [_at_face(body, face) for body in seen if body.taken.end is not None]
    outline = rectangle(0.0, 0.0, length, width)
    items = [Item("stock", difference(outline, union(*off)) if off else outline)]
    labels: list[Label] = []
    along: list[Mark] = []
    up: list[Mark] = []
    said: set[str] = set()
    for body in bodies:
        region = _at_face(body, face)
        if body not in seen:
            items.append(Item("behind", region))
            continue
        if body.taken.end is not None:
            x0, _, x1, _ = region.bounds
            base = x1 if x0 < SAME else x0
            along.append((base, 0.0, figure(base, voice)))
            continue
        items.append(Item("cut", region))
        if line := centreline_at(body, face):
            items.append(Item("centreline", carried_on(line)))
            labels.append(Label(*line.start, "start", "near", True, weight=3))
        deep = _deepest(body, face)
        if deep.bounds[2] - deep.bounds[0] > region.bounds[2] - region.bounds[0] + SAME:
            items.append(Item("behind", deep))
        along += [(at, across, figure(at, voice)) for at, across in extremes(region, "x")]
        up += [(at, across, figure(at, voice)) for at, across in extremes(region, "y")]
        x0, y0, x1, y1 = region.bounds
        name = body.taken.joint
        if name not in said:
            said.add(name)
            letter = letters[name]
            labels.append(Label((x0 + x1) / 2, (y0 + y1) / 2, f"{name}, {letter}–{letter}", "near", True, weight=4))
    left, right, lower, upper = sides(face)
    labels += [
        Label(length, width / 2, right, "left", weight=2),
        Label(0.0, 0.7 * width, left, "right", weight=2),
        Label(length / 2, 0.0, lower, "above", weight=2),
        Label(length / 2, width, upper, "below", weight=2),
    ]
    running = (
        Running("x", (0.0, 0.0), _once([*along, (length, 0.0, figure(length, voice))], length), -OFF),
        Running("y", (0.0, 0.0), _once([*up, (width, 0.0, figure(width, voice))], width), -OFF),
    )
    return View(f"{face} face of {board.name}", tuple(items), tuple(labels), running=running)


def _deepest(body: Body, face: str) -> Region:
    """What a body takes at its bottom, as the face is seen from which it is cut."""
    return (
        body.section(body.depths[-1] - WITHIN)
        if face == "outside"
        else body.section(body.depths[0] + WITHIN).transformed(mirror_x(body.taken.board.length))
    )


def _once(marks: Iterable[Mark], most: float) -> tuple[Mark, ...]:
    """Ascending, each place once, none at the origin."""
    kept: list[Mark] = []
    for mark in sorted(marks):
        if SAME < mark[0] <= most + SAME and (not kept or mark[0] - kept[-1][0] > SAME):
            kept.append(mark)
    return tuple(kept)


def _reaches(bodies: Sequence[Body], end: str, board: Board) -> bool:
    """Whether anything is taken at the end grain of an end."""
    for body in bodies:
        if body.taken.end == end:
            return True
        x0, _, x1, _ = body.shadow.bounds
        if x0 < SAME if end == "left" else x1 > board.length - SAME:
            return True
    return False


def _end(board: Board, bodies: Sequence[Body], end: str, voice: Voice) -> View:
    """An end, seen square with the outside face down; figures from the lower edge along the outside face, and along the
    inside face where they are others."""
    at = WITHIN if end == "left" else board.length - WITHIN
    taken = [each for body in bodies for each in profile(body, "x", at)]
    width, thick = board.width, board.thickness
    flip = ((1.0, 0.0, 0.0), (0.0, -1.0, 0.0)) if end == "left" else ((-1.0, 0.0, width), (0.0, -1.0, 0.0))
    whole = rectangle(0.0, -thick, width, 0.0)
    solid = difference(whole, union(*taken)) if taken else whole
    sign, origin = (1.0, 0.0) if end == "left" else (-1.0, width)
    marks: list[tuple[Mark, ...]] = []
    for depth in (WITHIN, thick - WITHIN):
        found = [x for region in taken for x in _on_level(region, -depth)]
        marks.append(_once([(x, 0.0, figure(x, voice)) for x in [*found, width]], width))
    signed = [tuple((sign * x, reach, text) for x, reach, text in some) for some in marks]
    running = [Running("x", (origin, 0.0), signed[0], -OFF)]
    if [round(x, 2) for x, _, _ in marks[1]] not in ([round(x, 2) for x, _, _ in marks[0]], [round(width, 2)]):
        running.append(Running("x", (origin, thick), signed[1], OFF))
    first, last, _, _ = sides(f"{end} end")
    labels = (
        Label(0.0, thick / 2, first, "left", weight=3),
        Label(width, thick / 2, last, "right", weight=3),
    )
    dimensions = (Dimension((width, 0.0), (width, thick), -30.0, figure(thick, voice), "y"),)
    return View(
        f"{end} end of {board.name}, outside face down",
        (Item("stock", solid.transformed(flip), True),),
        labels,
        dimensions,
        running=tuple(running),
    )


def _alike(ends: Sequence[View]) -> Sequence[View]:
    """The left end alone where the right one is its mirror image."""
    left, right = ends
    if [_places(each) for each in left.running] != [_places(each) for each in right.running]:
        return ends
    return (replace(left, caption=f"{left.caption}; the right end is its mirror image"),)


def _places(running: Running) -> list[float]:
    return [round(abs(at), 2) for at, _, _ in sorted(running.marks, key=lambda mark: abs(mark[0]))]


def _on_level(region: Region, y: float) -> list[float]:
    """Where a quadrilateral's corners on a level lie, x."""
    return [float(x) for loop in region.loops for x, v in loop.points(0.01) if abs(v - y) < 3.0 * WITHIN]


def _section(board: Board, body: Body, voice: Voice, letter: str) -> View:
    """Square to a cut, half way along it: its width at the face and at the bottom, its depth, what is left; wood
    beside it only as far as the board reaches."""
    taken, angle, (first, last) = across_the_cut(body)
    boxes = [region.bounds for region in taken]
    x0, x1 = min(box[0] for box in boxes), max(box[2] for box in boxes)
    thick = board.thickness
    back = translation(-x0, 0.0)
    left, right = max(-BESIDE, first - x0), min(x1 - x0 + BESIDE, last - x0)
    whole = rectangle(left, -thick, right, 0.0)
    solid = difference(whole, union(*(region.transformed(back) for region in taken)))
    inside = not _opens(body, "outside")
    face, bottom = (-thick, -body.depths[0]) if inside else (0.0, -body.depths[-1])
    at_face, at_bottom = (
        sorted(x - x0 for region in taken for x in _on_level(region, level)) for level in (face, bottom)
    )
    out = -1.0 if inside else 1.0
    dimensions = []
    if len(at_face) > 1:
        dimensions.append(_wide(at_face, face, 9.0 * out, voice))
    if len(at_bottom) > 1 and abs((at_bottom[-1] - at_bottom[0]) - (at_face[-1] - at_face[0] if at_face else 0)) > SAME:
        dimensions.append(_wide(at_bottom, face, 17.0 * out, voice))
    dimensions += [
        Dimension((right, -thick), (right, 0.0), -18.0, figure(thick, voice), "y"),
    ]
    if abs(face - bottom) < thick - SAME:
        low, high = sorted((face, bottom))
        dimensions.append(Dimension((right, low), (right, high), -9.0, figure(high - low, voice), "y"))
    name = body.taken.joint
    lean = math.degrees(angle) % 180.0
    wood = left / 2.0 if left < -SAME else (x1 - x0 + right) / 2.0
    labels = (
        Label(wood, -thick, "inside face", "below", weight=1),
        Label(wood, 0.0, "outside face", "above", weight=1),
    )
    caption = f"{letter}–{letter}: {name}, square across it" + (
        f" (plane at {lean:.4g}° to the grain)" if min(abs(lean), abs(lean - 90.0), abs(lean - 180.0)) > 0.01 else ""
    )
    return View(caption, (Item("stock", solid, True),), labels, tuple(dimensions), minor=True)


def _along_the_grain(board: Board, bodies: Sequence[Body], voice: Voice) -> Iterable[View]:
    """Of each end joint that does not go all the way through the board: a section along the grain, through its first
    cut, with what is left of the thickness."""
    thick, said = board.thickness, set()
    for body in bodies:
        end, name = body.taken.end, body.taken.joint
        if end is None or (name, end) in said:
            continue
        said.add((name, end))
        taken = _first_cut(bodies, body, end)
        if all(region.area > thick * (region.bounds[2] - region.bounds[0]) - SAME for region in taken):
            continue  # it goes all the way through, and the end shows it
        x0, x1 = min(region.bounds[0] for region in taken), max(region.bounds[2] for region in taken)
        x0, x1 = (0.0, x1 + BESIDE) if end == "left" else (x0 - BESIDE, board.length)
        solid = difference(rectangle(x0, -thick, x1, 0.0), union(*taken))
        edge, inner = (x0, x1 - BESIDE) if end == "left" else (x1, x0 + BESIDE)
        far = x1 if end == "left" else x0
        away = -1.0 if end == "left" else 1.0
        depths = _once([(depth, 0.0, figure(depth, voice)) for each in taken for depth in _depths(each, inner)], thick)
        whole = (thick, 0.0, figure(thick, voice))
        marks = tuple((-depth, 0.0, text) for depth, _, text in _once([*depths, whole], thick))
        low, high = sorted((edge, inner))
        yield View(
            f"along the grain through {name}, {end} end",
            (Item("stock", solid, True),),
            (
                Label((edge + inner) / 2.0, 0.0, f"{end} end", "above", weight=2),
                Label((far + inner) / 2.0, -thick, "inside face", "below", weight=1),
            ),
            (Dimension((low, -thick), (high, -thick), -12.0, figure(high - low, voice), "x"),),
            minor=True,
            running=(Running("y", (far, 0.0), marks, -away * OFF),),
        )


def _first_cut(bodies: Sequence[Body], body: Body, end: str) -> list[Region]:
    """What is taken at an end along the grain, in the plane through the first cut of a body; empty if there is none."""
    x = WITHIN if end == "left" else body.taken.board.length - WITHIN
    for depth in (body.depths[0] + WITHIN, body.depths[-1] - WITHIN):
        for low, high in chords(body.section(depth), "x", x)[:1]:
            at = (low + high) / 2.0
            return [region for each in bodies if each.taken.end == end for region in profile(each, "y", at)]
    return []


def _depths(region: Region, inner: float) -> list[float]:
    """Depths of the corners of what is taken, at the baseline."""
    return [-float(y) for loop in region.loops for x, y in loop.points(0.01) if abs(x - inner) < 0.5]


def _wide(places: Sequence[float], level: float, offset: float, voice: Voice) -> Dimension:
    return Dimension((places[0], level), (places[-1], level), offset, figure(places[-1] - places[0], voice), "x")
