"""The text of a DXF file: its tables and entities, put into a blank drawing that is kept beside this module.

Words: a *tag* is a group code and a value, on two lines; a *handle* numbers everything in a file, in hexadecimal, in
the order in which it was made; the *blank* (`blank.dxf`) is an empty drawing of release AC1024 (2010), as ezdxf 1.4.5
(MIT) writes it, with marks such as @LAYERS@ where something is to come. Numbers are in the drawing's own units.

Source: DXF Reference for AC1024, group codes of tables and entities, from memory; the tests read files by ezdxf.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from importlib import resources

Vertices = list[tuple[float, float, float]]
"""x, y and the bulge of what leaves it."""
Tags = list[tuple[int, object]]
MODEL_SPACE = "17"
"""Handle of the blank's model space, to which every entity belongs."""
FIRST = 0x2F
"""The first handle that the blank leaves free."""
_TABLES = {"LTYPE": ("2", 3), "LAYER": ("1", 2), "APPID": ("3", 1)}
"""Handle of each table of the blank, and how many records it has there."""


@cache
def _blank() -> str:
    return resources.files("jigcam.drawing").joinpath("blank.dxf").read_text("ascii")


class DxfFile:
    """A file that grows tag by tag; the same calls give the same text. insunits: the value of $INSUNITS."""

    def __init__(self, insunits: int, *, metric: bool) -> None:
        self.layers: set[str] = set()
        self.linetypes: set[str] = set()
        self._marks = {"INSUNITS": str(insunits), "MEASUREMENT": str(int(metric))}
        self._records: dict[str, list[str]] = {table: [] for table in _TABLES}
        self._entities: list[str] = []
        self._next = FIRST

    def text(self) -> str:
        """The whole file, as far as it has come."""
        records, last = {table: list(each) for table, each in self._records.items()}, self._next
        for place, name in enumerate(("HATCHBACKGROUNDCOLOR", "EZDXF")):
            records["APPID"].append(_application(f"{last + place:X}", name))
        marks = {**self._marks, "WRITTEN": f"{last + 2:X}", "HANDSEED": f"{last + 3:X}"}
        text = _blank()
        for table, (_, there) in _TABLES.items():
            marks[f"{table} COUNT"] = str(there + len(records[table]))
            text = text.replace(f"@{table}S@", "".join(records[table]))
        for mark, value in marks.items():
            text = text.replace(f"@{mark}@", value)
        return text.replace("@ENTITIES@", "".join(self._entities))

    def add_linetype(self, name: str, dashes: Sequence[float]) -> None:
        """dashes: lengths drawn and, negative, left out, in turn."""
        self.linetypes.add(name)
        tags: Tags = [(70, 0), (3, name), (72, 65), (73, len(dashes)), (40, sum(map(abs, dashes)))]
        tags += [tag for length in dashes for tag in ((49, length), (74, 0))]
        self._record("LTYPE", "AcDbLinetypeTableRecord", name, tags)

    def add_layer(self, name: str, colour: int, linetype: str, weight: int, description: str) -> None:
        """weight: of lines, in hundredths of a millimetre."""
        tags: Tags = [(70, 0), (62, colour), (6, linetype), (370, weight), (390, "13"), (347, "21")]
        tags += [(1001, "AcAecLayerStandard"), (1000, ""), (1000, description)]
        self._record("LAYER", "AcDbLayerTableRecord", name, tags)
        if not self.layers:  # the first description has its application put down
            self._records["APPID"].append(_application(self._handle(), "AcAecLayerStandard"))
        self.layers.add(name)

    def add_polyline(self, layer: str, points: Vertices, *, closed: bool) -> None:
        """Lines and arcs, one after the other."""
        tags: Tags = [(100, "AcDbPolyline"), (90, len(points)), (70, int(closed))]
        for x, y, bulge in points:
            tags += [(10, x), (20, y)] if bulge == 0.0 else [(10, x), (20, y), (42, bulge)]
        self._entity("LWPOLYLINE", layer, tags)

    def add_solid(self, layer: str, corners: Vertices) -> None:
        """A filled triangle: its last corner counts twice."""
        tags: Tags = [(100, "AcDbTrace")]
        for place, (x, y, _) in enumerate([*corners, corners[-1]]):
            tags += [(10 + place, x), (20 + place, y), (30 + place, 0.0)]
        self._entity("SOLID", layer, tags)

    def add_hatch(
        self, layer: str, loops: Sequence[Vertices], pattern: str, lines: Sequence[tuple[float, tuple[float, float]]]
    ) -> None:
        """The inside of closed outlines by the even-odd rule. lines: their angle, degrees, and the step from one to the
        next; none fills it solidly."""
        tags: Tags = [(62, 7), (100, "AcDbHatch"), (10, 0.0), (20, 0.0), (30, 0.0), (210, 0.0), (220, 0.0), (230, 1.0)]
        tags += [(2, pattern), (70, int(not lines)), (71, 0), (91, len(loops))]
        for loop in loops:
            curved = any(bulge for _, _, bulge in loop)
            tags += [(92, 3), (72, int(curved)), (73, 1), (93, len(loop))]
            for x, y, bulge in loop:
                tags += [(10, x), (20, y), (42, bulge)] if curved else [(10, x), (20, y)]
            tags.append((97, 0))
        tags += [(75, 1 if lines else 0), (76, 1)]
        if lines:
            tags += [(52, 0.0), (41, 1.0), (77, 0), (78, len(lines))]
        for angle, (dx, dy) in lines:
            tags += [(53, angle), (43, 0.0), (44, 0.0), (45, dx), (46, dy), (79, 0)]
        self._entity("HATCH", layer, [*tags, (98, 0)])

    def add_text(
        self, layer: str, place: tuple[float, float], text: str, height: float, angle_deg: float, align: int
    ) -> None:
        """One line of text on its base line. align: 0, 1, 2 where its left end, middle or right end is at the place."""
        x, y = place
        tags: Tags = [(100, "AcDbText"), (10, x), (20, y), (30, 0.0), (40, height), (1, text.rstrip("^"))]
        tags += [(50, angle_deg)] if angle_deg else []
        tags += [(72, align)] if align else []
        self._entity("TEXT", layer, [*tags, (11, x), (21, y), (31, 0.0), (100, "AcDbText")])

    def _handle(self) -> str:
        self._next += 1
        return f"{self._next - 1:X}"

    def _record(self, table: str, kind: str, name: str, tags: Tags) -> None:
        self._records[table].append(_record(table, self._handle(), kind, name, tags))

    def _entity(self, kind: str, layer: str, tags: Tags) -> None:
        head: Tags = [(0, kind), (5, self._handle()), (330, MODEL_SPACE), (100, "AcDbEntity"), (8, layer)]
        self._entities.append(_text([*head, *tags]))


def _application(handle: str, name: str) -> str:
    return _record("APPID", handle, "AcDbRegAppTableRecord", name, [(70, 0)])


def _record(table: str, handle: str, kind: str, name: str, tags: Tags) -> str:
    owner, _ = _TABLES[table]
    head: Tags = [(0, table), (5, handle), (330, owner), (100, "AcDbSymbolTableRecord"), (100, kind), (2, name)]
    return _text([*head, *tags])


def _text(tags: Tags) -> str:
    return "".join(f"{code:>3}\n{value}\n" for code, value in tags)
