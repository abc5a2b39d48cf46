"""Tables fold by columns, sentences between words."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from jigcam.making.columns import PROSE, columns, hanging, prose, room

cells = st.text("ab 1é木", max_size=9).map(lambda text: " ".join(text.split()) or "x")
words = st.text("ab1,;木é", min_size=1, max_size=12)


@st.composite
def tables(draw: st.DrawFn) -> list[list[str]]:
    """Rows of cells, all alike in number; each cell tells its row and column."""
    wide, high = draw(st.integers(1, 9)), draw(st.integers(1, 5))
    return [[f"{draw(cells)}-{r}.{c}" for c in range(wide)] for r in range(high)]


@given(tables(), st.integers(1, 3), st.integers(10, 90))
def test_a_table_folds_by_columns_and_loses_nothing(rows: list[list[str]], left: int, width: int) -> None:
    left = min(left, len(rows[0]))
    flat = columns(rows[0], rows[1:], left=left)
    lines = columns(rows[0], rows[1:], left=left, width=width)
    if max(map(room, flat)) <= width:
        assert lines == flat
    parts = "\n".join(lines).split("\n\n")
    for part in parts:
        told = part.split("\n")
        assert len(told) == len(rows), "every part has every row"
        assert all(row[0] in line for row, line in zip(rows, told, strict=True)), "and the first column"
    for r, row in enumerate(rows):
        joined = "\n".join(part.split("\n")[r] for part in parts)
        assert all(cell in joined for cell in row)
    # Wider than the screen only where the first column and one more are.
    widths = [max(room(row[c]) for row in rows) for c in range(len(rows[0]))]
    pair = 2 + widths[0] + (2 + max(widths[1:]) if len(widths) > 1 else 0)
    if left == 1:
        assert max(map(room, lines)) <= max(width, pair)


def test_no_part_is_left_with_a_lonely_column() -> None:
    rows = [[f"cell {r}{c}" for c in range(7)] for r in range(3)]
    wide = max(map(room, columns(rows[0], rows[1:])))
    first, second = "\n".join(columns(rows[0], rows[1:], width=wide - 1)).split("\n\n")
    assert abs(first.count("cell") - second.count("cell")) <= 3


@given(st.lists(words, min_size=1, max_size=30), st.integers(0, 12), st.integers(20, 60))
def test_a_sentence_breaks_between_words(some: list[str], indent: int, width: int) -> None:
    text = " " * indent + " ".join(some)
    lines = hanging(text, width)
    assert " ".join(" ".join(lines).split()) == " ".join(some)
    assert lines[0].startswith(" " * indent)
    assert all(room(line) <= width or len(line.split()) == 1 for line in lines)
    assert all(line.startswith(" " * (indent + 2)) for line in lines[1:])
    assert hanging(text, None) == [text]


def test_a_path_stays_whole_and_prose_keeps_a_measure() -> None:
    path = "/a/very/long/path/to/a/file/that/is/wider/than/the/screen.toml"
    assert path in hanging(f"they are in {path} and nowhere else", 30)[1]
    assert max(map(len, prose(["word " * 100], 160))) <= PROSE
    assert hanging("a\nname\twith breaks", 80) == ["a name with breaks"]


def test_a_figure_keeps_its_unit() -> None:
    for width in range(12, 60):
        lines = hanging("the groove is 0.253 in wide, 6.35 mm deep and 12 % long", width)
        told = " ".join(line.strip() for line in lines)
        assert told == "the groove is 0.253 in wide, 6.35 mm deep and 12 % long"
        assert not [line for line in lines if line.strip().startswith(("in ", "mm ", "% "))]
        assert not [line for line in lines if line.endswith(("0.253", "6.35", "12"))]
