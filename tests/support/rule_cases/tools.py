"""Rules of kits that lack a tool: what a way wants, and what is had without it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from support.rule_cases.case import Case, Findings, Say, case, said

from jigcam.job import Entry
from jigcam.kit import Kit, load_kit
from jigcam.making.by_hand import check_tools

KIT = load_kit("inch-shop")


def checked(way: Any, without: Iterable[str] = ()) -> Say:
    """A joint in some way, with the shop's tools but some tables."""

    def findings() -> Findings:
        lacks = {table: () if table == "bushings" else None for table in without}
        kit: Kit = KIT.model_copy(update=lacks)
        check_tools(Entry(name="shelf", kind="groove", way=way), kit)
        return ()

    return said(findings)


def asked(table: str) -> Say:
    """A tool that somebody cannot do without."""

    def findings() -> Findings:
        getattr(KIT.model_copy(update={table: None}), f"the_{table}")
        return ()

    return said(findings)


TOOLS: dict[str, Case] = {
    "no-machine": case(checked("direct", ["machine"]), asked("machine"), silent=checked("template", ["machine"])),
    "no-router": case(checked("template", ["router"]), asked("router"), silent=checked("direct", ["router"])),
    "no-sheet": case(checked("template", ["sheet"]), asked("sheet"), silent=checked("hand", ["sheet"])),
    "no-bushings": case(checked("template", ["bushings"]), silent=checked("hand", ["machine", "bushings"])),
}
