"""A sheet that several joints share, planned: the openings, where else it is laid, and by which pair each is cut."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from jigcam.making.laid_again import face_texts, layings
from jigcam.template import Wanted, plan_shared
from jigcam.template.laying import Site
from jigcam.template.sheet import STAYS
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.job import Entry
    from jigcam.kit import Kit
    from jigcam.making.kind import Sharing
    from jigcam.making.laid_again import LaidAgain, Use
    from jigcam.template import Pair, SharedSheet
    from jigcam.units import Voice


@dataclass(frozen=True)
class SheetJoint:
    """A joint that wants an opening in a shared sheet. joint: as drawn, without a finding that stops it."""

    entry: Entry
    joint: Any
    sharing: Sharing


@dataclass(frozen=True)
class SheetPlan:
    """The sheet with an opening for each joint, in their order. laid: where it is laid again."""

    sheet: SharedSheet
    laid: tuple[LaidAgain, ...]


def plan_openings(
    name: str, joints: Sequence[SheetJoint], kit: Kit, voice: Voice, pair: Pair | None = None
) -> SheetPlan:
    """The openings of joints in one sheet. pair: by which all of them are to be cut; None: as they ask, or chosen.

    Raises `Refused` as `plan_shared`, and InputError for tools that the kit lacks.
    """
    wanted: list[Wanted] = []
    uses: list[Use] = []
    for each in joints:
        cuts, entry = each.sharing.cuts(each.joint), each.entry
        bit = kit.bit(entry.bit) if entry.bit else None
        bushing = kit.bushing(entry.bushing) if entry.bushing else None
        if pair is not None:
            bit, bushing = kit.bit(pair.bit.name), kit.bushing(pair.bushing.name)
        wanted.append(Wanted(cuts[0], bit, bushing, any(cut.hand == "opposite" for cut in cuts)))
        uses += each.sharing.again(each.joint)
    home = Site.of(wanted[0].cut)
    laid = layings(uses, home)
    moved = [
        replace(
            want,
            steps=(
                *STAYS,
                *(step for each in laid if want.cut.joint in each.joints and (step := each.step(home))),
            ),
        )
        for want in wanted
    ]
    faces = face_texts(laid, home, both_hands=any(want.both_hands for want in wanted))
    return SheetPlan(plan_shared(name, moved, kit, voice, faces), laid)
