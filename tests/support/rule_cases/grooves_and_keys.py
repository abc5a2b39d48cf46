"""Rules of grooves and keys, and those of wood that they share."""

from __future__ import annotations

import datetime
from dataclasses import replace
from functools import cache
from math import pi
from typing import Any

from support.dovetails import SIDE as TAIL
from support.dovetails import TOP as PIN
from support.dovetails import dovetail_job
from support.dovetails import made as corner
from support.grooves import SIDE as BOARD
from support.grooves import groove_job, made
from support.keys import keys
from support.rule_cases.case import Case, Say, case, said

from jigcam.dovetails.season import season_findings as corner_season
from jigcam.geometry import offset
from jigcam.job import Board, Job
from jigcam.joints import design
from jigcam.joints.groove.plan import plan_groove
from jigcam.joints.groove.season import season_findings
from jigcam.joints.key.entry import KeyEntry
from jigcam.joints.key.fit import key_fit
from jigcam.joints.key.key import Key
from jigcam.joints.key.plan import KeysPlan, plan_keys
from jigcam.joints.key.season import season_findings as key_season
from jigcam.joints.key.template import key_template
from jigcam.kit import Kit, Measured, load_kit
from jigcam.making.made_joint import MadeJoint, made_joint
from jigcam.making.template import milled_opening, ridden
from jigcam.template.inlay import plug_in
from jigcam.units import Voice

KIT = load_kit("metric-shop")


def groove(**changes: Any) -> Say:
    """What is said of a groove before any tool is known."""
    return said(lambda: made(groove_job(**changes)).findings)


def a_key(**changes: Any) -> Say:
    """What is said of keys before any tool is known."""
    return said(lambda: keys(**changes).findings)


def inlaid(kit: Kit = KIT, bit: str | None = None, bushing: str | None = None, **changes: Any) -> Say:
    """What is said of the template of keys."""
    return said(
        lambda: (
            key_template(
                keys(**changes),
                kit,
                bit=kit.bit(bit) if bit else None,
                bushing=kit.bushing(bushing) if bushing else None,
                voice=Voice("mm"),
            ).findings
        )
    )


def with_bushing(outside: float) -> Kit:
    """The shop with another size of its bushing of 17 mm."""
    bushings = [b.model_copy(update={"outside": outside}) if b.name == "bushing 17" else b for b in KIT.bushings]
    return KIT.model_copy(update={"bushings": tuple(bushings)})


def off_axis(by: float) -> Kit:
    """The shop with a router whose bushing and bit are apart, mm."""
    return KIT.model_copy(update={"router": KIT.router.model_copy(update={"eccentricity": by})})


@cache
def _milled_keys() -> MadeJoint:
    """Keys, planned and written, nothing proved yet."""
    entry = KeyEntry(
        name="bow ties",
        kind="key",
        board="top",
        face="outside",
        at=(250.0, 150.0),
        length=60.0,
        ends=32.0,
        waist=16.0,
        depth=8.0,
    )
    boards = {"top": Board(name="top", length=710.0, width=300.0, thickness=22.0)}
    job = Job(title="Sheet-music cabinet", units="mm", boards=boards, joints=(entry,))
    drawn = design(entry, job)
    assert isinstance(drawn, Key)
    return made_joint(plan_keys(drawn, entry, job, KIT), job)


def key_cut(smaller: float) -> Say:
    """A key that came out smaller than its opening leaves it, all round, in its recess."""

    def findings() -> Any:
        milled = _milled_keys()
        plan = milled.plan
        assert isinstance(plan, KeysPlan)
        sheet, pair = plan.template.template, plan.template.inlay.plug
        opening = milled_opening(sheet, milled.files, milled.texts, KIT)
        ride = ridden(sheet, opening, sheet.cut, KIT, "bow ties", "mm")
        plug = plug_in(opening, pair.bit.diameter, pair.bushing.outside)
        return key_fit(plan.template, ride, opening, offset(plug, -smaller) if smaller else plug, Voice("mm"))[1]

    return said(findings)


def plug_bushing(outside: float | None) -> Say:
    """Keys judged from their files, with another bushing for the key."""

    def findings() -> Any:
        milled = _milled_keys()
        plan = milled.plan
        assert isinstance(plan, KeysPlan)
        inlay = plan.template.inlay
        size = inlay.plug.bushing.outside if outside is None else outside
        pair = replace(inlay.plug, bushing=inlay.plug.bushing.model_copy(update={"outside": size}))
        other = replace(plan, template=replace(plan.template, inlay=replace(inlay, plug=pair)))
        return other.judged(milled.files, milled.texts).findings

    return said(findings)


def ridden_groove(by: float) -> Say:
    """A groove by template, judged from its file, with the axes apart by that much."""

    def findings() -> Any:
        job = groove_job(way="template", start_point=(100.0, 60.0), angle=0.0, length=100.0)
        plan = plan_groove(made(job), job.joints[0], job, off_axis(by))
        milled = made_joint(plan, job)
        return milled.judged(milled.texts).findings

    return said(findings)


def seasonal(sawn: str | None = "flat", **changes: Any) -> Say:
    """What the seasons do to a groove in a quarter-sawn side. sawn: how the shelf is."""
    woods = {"enters": {"wood": "black cherry", "sawn": sawn, **changes.pop("enters", {})}}
    job = groove_job(board=QUARTER, **woods, **changes)
    return said(lambda: season_findings(made(job), job, KIT))


def corner_in_season(pins: str) -> Say:
    """What the seasons do to a corner whose tails are quarter-sawn."""
    side, top = (
        {**board, "width": 300.0, "wood": "black cherry", "sawn": sawn}
        for board, sawn in ((TAIL, "quarter"), (PIN, pins))
    )
    job = dovetail_job(side=side, top=top, count=6)
    return said(lambda: corner_season(corner(job), job, KIT))


def key_in_season(wood: str | None) -> Say:
    """What the seasons do to a key."""
    board = Board(name="top", length=710.0, width=300.0, thickness=22.0, wood=wood)
    job = groove_job()
    return said(lambda: key_season(replace(keys(), board=board), job, KIT))


QUARTER = {**BOARD, "wood": "black cherry", "sawn": "quarter"}
PANEL = {"angle": 0.0, "start_point": (60.0, 30.0), "length": 400.0, "shelf": 6.0, "depth": 8.0, "floats": True}
DADO = {"start_point": (100.0, 0.0), "angle": pi / 2, "length": 285.0, "start": "open", "finish": "open"}
SHORT = {"start_point": (100.0, 100.0), "length": 12.0, "receives": None, "width": 12.5}
NOTCH = SHORT | {"start_point": (100.0, 0.0), "angle": pi / 2, "length": 6.0, "start": "open"}
TEST_CUT = Measured(bit="straight 3", bushing="bushing 17", opening=30.0, width=16.0, date=datetime.date(2026, 3, 1))
TRIED = KIT.model_copy(update={"measured": (TEST_CUT,)})
SOUND, KEY, INLAID = groove(), a_key(), inlaid()
LATER = inlaid(count=2, spacing=80.0)

GROOVES_AND_KEYS: dict[str, Case] = {
    "misses-board": case(groove(start_point=(100.0, 300.0)), silent=SOUND),
    "too-short": case(
        lambda: [*groove(**SHORT)(), *groove(**NOTCH)()],
        silent=lambda: [*groove(**SHORT, ends="square")(), *groove(**NOTCH | {"length": 7.0})()],
    ),
    "off-board": case(groove(start_point=(100.0, -0.01)), a_key(at=(20.0, 10.0)), silent=lambda: [*SOUND(), *KEY()]),
    "open-end-extended": case(groove(**DADO | {"start_point": (100.0, 30.0), "length": 255.0}), silent=groove(**DADO)),
    "short-grain": case(
        groove(start_point=(100.0, 5.0)), a_key(at=(250.0, 33.0)), silent=lambda: [*groove(**DADO)(), *KEY()]
    ),
    "too-deep": case(groove(depth=21.1), a_key(depth=20.0), silent=groove(depth=20.9)),
    "deep": case(groove(depth=8.1), a_key(depth=12.0), silent=groove(depth=7.9)),
    "shallow": case(groove(depth=5.0), groove(depth=1.5), silent=groove(depth=5.0, receives=None, width=12.5)),
    "interference": case(groove(width=12.0), silent=SOUND),
    "no-clearance": case(groove(width=12.2), silent=SOUND),
    "loose": case(groove(clearance=0.3), silent=groove(clearance=0.25)),
    "round-the-edge": case(SOUND, silent=groove(ends="square")),
    "notch": case(groove(length=150.0), silent=SOUND),
    "season-binds": case(seasonal(), silent=seasonal("quarter")),
    "season-opens": case(seasonal(enters={"width": 195.0}), silent=seasonal("quarter", enters={"width": 195.0})),
    "season-edges": case(
        seasonal(**DADO, enters={"width": 285.0}), corner_in_season("flat"), silent=corner_in_season("quarter")
    ),
    "floating-panel": case(
        seasonal(**PANEL, enters={"length": 400.0, "width": 300.0}),
        seasonal(**PANEL | {"depth": 2.0}, enters={"length": 400.0, "width": 600.0}),
        silent=seasonal(**PANEL | {"floats": False}, enters={"length": 400.0, "width": 300.0}),
    ),
    "season-key": case(key_in_season("black cherry"), silent=key_in_season(None)),
    "axes-apart": case(ridden_groove(0.12), silent=ridden_groove(0.01)),
    "keys-close": case(a_key(count=2, spacing=30.0), a_key(count=2, spacing=40.0), silent=a_key(count=2, spacing=50.0)),
    "weak-key": case(a_key(waist=28.0), silent=KEY),
    "key-along-grain": case(a_key(angle=0.0), silent=KEY),
    "key-grain": case(KEY, silent=SOUND),
    "no-inlay": case(inlaid(bit="straight 6"), silent=INLAID),
    "inlay": case(INLAID, silent=inlaid(bit="straight 6")),
    "inlay-corners": case(INLAID, silent=inlaid(bit="straight 6")),
    "inlay-gap": case(
        inlaid(with_bushing(17.06), bushing="bushing 17"),
        inlaid(with_bushing(16.94), bushing="bushing 17"),
        silent=INLAID,
    ),
    "cut-the-key": case(INLAID, silent=inlaid(bit="straight 6")),
    "next-key": case(LATER, silent=INLAID),
    "try-the-key": case(INLAID, silent=inlaid(TRIED, bushing="bushing 17")),
    "no-key": case(plug_bushing(60.0), silent=plug_bushing(None)),
    "key-and-recess": case(key_cut(0.3), silent=key_cut(0.0)),
}
