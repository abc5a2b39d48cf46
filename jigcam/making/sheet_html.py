"""A setup sheet as one HTML file, for a screen beside the machine: the same blocks and pictures as its printed pages.

No script and no network: boxes are ticked in the page, pictures are SVG in it. Light and dark as the system is;
printed, each clamping is a page of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from html import escape
from itertools import count
from typing import TYPE_CHECKING

from jigcam.drawing.text import clean
from jigcam.making.blocks import Block, HeadedTable, Heading, Lines, Points, Rows, Sentence
from jigcam.making.clamping_picture import clamping_picture
from jigcam.making.html_pictures import pictures
from jigcam.making.sheet_pages import large_figures, settings, small_rows
from jigcam.units.setting import Known

if TYPE_CHECKING:
    from jigcam.drawing.model import Drawing
    from jigcam.making.setup_sheet import Part, SetupSheet
    from jigcam.units import Voice

STYLE = """
:root { color-scheme: light dark; }
body { font: 1.05rem/1.5 system-ui, sans-serif; max-width: 60rem; margin: 1rem auto; padding: 0 1rem; }
h1 { font-size: 1.7rem; margin-bottom: 0; } h2 { margin: 2rem 0 .5rem; } h3 { margin: 1.2rem 0 .3rem; }
nav { columns: 2; margin: 1rem 0; } nav a { display: block; padding: .15rem 0; color: inherit; }
.pictures { display: flex; flex-wrap: wrap; align-items: flex-start; gap: .6rem; margin: .6rem 0; }
figure { margin: 0; padding: .3rem; background: #fff; color: #000; max-width: 100%; box-sizing: border-box; }
figure svg { display: block; max-width: 100%; height: auto; zoom: 1.25; } figcaption { font-weight: bold; }
dl { display: grid; grid-template-columns: minmax(5rem, max-content) 1fr; gap: .15rem 1rem; margin: .5rem 0; }
dt { font-weight: bold; } dd { margin: 0; }
ul { padding-left: 1.3rem; } ul.work { list-style: none; padding-left: 0; }
ul.work label { display: grid; grid-template-columns: 2rem 1fr; margin: .35rem 0; }
ul.work input { width: 1.3rem; height: 1.3rem; margin: .15rem 0 0; } ul.work .more { margin-left: 2rem; }
.lead { list-style: none; margin: .4rem 0 0 -1.3rem; font-weight: bold; break-after: avoid; }
ul.work input:checked + span { opacity: .6; } ul.run { font-weight: bold; margin-top: 1.6rem; }
.figures { display: flex; flex-wrap: wrap; gap: .5rem; margin: .6rem 0; }
.figures div { border: 2px solid; padding: .1rem .7rem .3rem; } .figures span { display: block; font-size: .85rem; }
.figures b { font-size: 1.9rem; line-height: 1.2; }
table { border-collapse: collapse; } td, th { padding: .1rem .7rem .1rem 0; text-align: left; }
th { border-bottom: 1px solid; } pre { overflow-x: auto; font-size: .9rem; }
@media (max-width: 32rem) { nav { columns: 1; }
  dl { grid-template-columns: 1fr; } dt:empty { display: none; } dd { margin-left: 1rem; }
  .figures b { font-size: 1.6rem; } h1 { font-size: 1.4rem; } figure svg { zoom: 1; } }
@page { margin: 12mm; }
@media print { nav { display: none; } section.clamping, section.bench { break-before: page; }
  figure { padding: 0; } figure svg { zoom: .66; } figcaption { font-size: 9pt; max-width: 22em; }
  body { font-size: 10.5pt; line-height: 1.3; margin: 0; max-width: none; }
  figure, li, dl, tr, .file, .figures, h2, h3 { break-inside: avoid; }
  h2, h3, .figures, ul.run { break-after: avoid; } h2 { margin-top: 1rem; } ul.run { margin-top: .6rem; }
  .figures { gap: .4rem; } .figures div { padding: 0 .5rem .15rem; } .figures b { font-size: 1.35rem; }
  ul { margin: .3rem 0; } ul.work label { margin: .1rem 0; } ul.work input:checked + span { opacity: 1; } }
"""


def sheet_html(sheet: SetupSheet, drawings: Mapping[str, Drawing], voice: Voice) -> str:
    """The page. drawings: of the joint, by stem."""
    lines = [
        "<!DOCTYPE html>",
        '<html lang="en">',
        '<head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">',
        f"<title>{_safe(sheet.title)}</title><style>{STYLE}</style></head>",
        f"<body><main><h1>{_safe(sheet.name)}</h1>",
        f"<p>{_safe('; '.join([sheet.title, *sheet.made.split('   ')]))}</p>",
        *_contents(sheet),
    ]
    numbers = count(1)
    total = [block for part in sheet.parts if part.topic == "time" for block in part.blocks]
    for part in sheet.parts:
        if part.topic == "time":
            continue
        if part.topic == "joint":
            # As on paper: how long it all takes is asked first, and would stand alone on a page behind the clampings.
            part = replace(part, blocks=(*part.blocks, *total))
        lines.append(f'<section class="{part.topic}">')
        lines += _part(part, drawings, voice, numbers)
        lines.append("</section>")
    return "\n".join([*lines, "</main></body></html>"]) + "\n"


def _contents(sheet: SetupSheet) -> Iterator[str]:
    """Where everything is: a page on a screen is long."""
    heads = [each for part in sheet.parts for each in part.blocks if isinstance(each, Heading) and not each.minor]
    yield '<nav aria-label="What is on this sheet">'
    for number, each in enumerate(heads, start=1):
        yield f'<a href="#part-{number}">{_safe(each.text)}</a>'
    yield "</nav>"


def _part(part: Part, drawings: Mapping[str, Drawing], voice: Voice, numbers: Iterator[int]) -> Iterator[str]:
    """numbers: of the headings that the contents name."""
    work = part.topic in ("clamping", "bench", "trial")
    within = False  # of a file, which stays together on paper
    for place, block in enumerate(part.blocks):
        if isinstance(block, Heading) and within:
            yield "</div>"
            within = False
        if isinstance(block, Heading) and block.minor and part.topic == "clamping":
            yield '<div class="file">'
            within = True
            yield from _points([f"Run {block.text}"], boxes=True, kind="work run")
        elif isinstance(block, Heading) and not block.minor:
            yield f'<h2 id="part-{next(numbers)}">{_safe(block.text)}</h2>'
        else:
            yield from _block(block, boxes=work)
        if place == 0 and part.setup is not None:
            yield from _pictures([clamping_picture(part.setup, part.files, voice)])
    if within:
        yield "</div>"
    if part.topic == "joint":
        yield from _pictures(drawings.values())


def _pictures(drawings: Iterable[Drawing]) -> Iterator[str]:
    for drawing in drawings:
        yield '<div class="pictures">'
        yield from pictures(drawing)
        yield "</div>"


def _block(block: Block, *, boxes: bool) -> Iterator[str]:
    match block:
        case Heading(text):
            yield f"<h3>{_safe(text)}</h3>"
        case Points(sentences):
            yield from _figures(settings(block))
            yield from _points(sentences, boxes=boxes)
        case Rows(rows, minor):
            # Of a file the numbers to be set come first, large.
            if minor:
                yield from _figures(large_figures(rows))
            yield from _rows(small_rows(rows) if minor else rows)
        case HeadedTable(head, rows, _):
            told = "".join(f"<th>{_safe(each)}</th>" for each in head)
            body = "".join("<tr>" + "".join(f"<td>{_safe(each)}</td>" for each in row) + "</tr>" for row in rows)
            yield f"<table><thead><tr>{told}</tr></thead><tbody>{body}</tbody></table>"
        case Lines(lines):
            yield "<pre>" + "\n".join(escape(line) for line in lines) + "</pre>"
        case Sentence(text):
            yield f"<p>{_safe(text)}</p>"


def _figures(figures: Sequence[tuple[str, str]]) -> Iterator[str]:
    if figures:
        cards = "".join(f"<div><span>{_safe(name)}</span><b>{_safe(value)}</b></div>" for name, value in figures)
        yield f'<div class="figures">{cards}</div>'


def _points(sentences: Sequence[str], *, boxes: bool, kind: str = "work") -> Iterator[str]:
    """A list; sentences that begin with blanks belong to the one before, and like those that only tell have no box."""
    yield f'<ul class="{kind}">' if boxes else "<ul>"
    for each in sentences:
        more = each.startswith("  ")
        if boxes and not more and not isinstance(each, Known):
            yield f'<li><label><input type="checkbox"><span>{_safe(each)}</span></label></li>'
        else:
            # What ends with a colon is said of those that follow.
            role = "more" if more else "lead" if each.endswith(":") else ""
            yield f'<li class="{role}">{_safe(each)}</li>' if role else f"<li>{_safe(each)}</li>"
    yield "</ul>"


def _rows(rows: Sequence[tuple[str, str]]) -> Iterator[str]:
    before = ""
    yield "<dl>"
    for name, value in rows:
        yield f"<dt>{'' if name == before else _safe(name)}</dt><dd>{_safe(value)}</dd>"
        before = name
    yield "</dl>"


def _safe(text: str) -> str:
    return escape(clean(text))
