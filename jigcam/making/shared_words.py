"""Words of the setup sheet about a sheet that several joints share: which opening with what, in which order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from jigcam.making.blocks import section, table
from jigcam.making.laid_again import laying_words, mirrored_words
from jigcam.making.template_words import strip_words
from jigcam.making.words import bit_words, blank_words, bushing_words, finished_rows, router_speed, sums_rows
from jigcam.template.laying import Site
from jigcam.template.turning import laying_line, turning_lines
from jigcam.wood.band import sides

if TYPE_CHECKING:
    from jigcam.kit import Kit
    from jigcam.making.blocks import Block
    from jigcam.making.laid_again import LaidAgain
    from jigcam.making.opening_plan import OpeningPlan
    from jigcam.template import SharedSheet, TemplatePlan
    from jigcam.template.wall import SheetWall
    from jigcam.units import Voice


def in_order(members: Sequence[OpeningPlan]) -> tuple[OpeningPlan, ...]:
    """In the order of the work: all openings of one pair of bit and bushing one after the other, else as in the job."""
    pairs = list(dict.fromkeys(str(each.template.pair) for each in members))
    return tuple(sorted(members, key=lambda each: pairs.index(str(each.template.pair))))


def joints_words(members: Sequence[OpeningPlan]) -> list[Block]:
    """Every joint as drawn, under its name."""
    return [line for each in members for line in each.drawn_words(f"The joint: {each.name}")]


def sheet_words(sheet: SharedSheet, members: Sequence[OpeningPlan], kit: Kit, voice: Voice) -> list[Block]:
    """The sheet, what stays between its openings, and each opening with its tools and sums."""
    first = sheet.first
    rows = [
        ("blank", f"{blank_words(first.blank, voice, sawn=first.sawn)}, {kit.the_sheet.material}"),
        *finished_rows(first, voice),
        ("openings", f"{len(members)}: {', '.join(each.name for each in members)}"),
    ]
    for each in sheet.neighbours:
        a, b = each.joints
        rows.append(
            (
                "between",
                f"{a} and {b}: {voice.length(each.wall.size)} of sheet, and {voice.length(each.wood.size)} of wood "
                f"between the cuts, at their nearest {_place(each.wood, first, voice)}; the sheet holds it",
            )
        )
    lines = table(f"The sheet: {sheet.name}", rows)
    for number, member in enumerate(in_order(members), start=1):
        plan = member.template
        lines += table(
            f"Opening {number} of {len(members)}: {member.name}",
            [
                ("bit", bit_words(plan, kit, voice)),
                ("bushing", bushing_words(plan, kit, voice)),
                ("speed", router_speed(plan.bit, kit, voice)),
                ("bit below the base", f"{voice.rule(plan.stack.projection)}, at full depth"),
                ("depth", f"{voice.rule(plan.stack.depth)} of the {plan.cut.what}"),
                *sums_rows(plan, voice),
                ("base", f"{100 * plan.support.fraction:.0f} % of it rests on the sheet at the worst place"),
            ],
        )
    return lines


def _place(wall: SheetWall, plan: TemplatePlan, voice: Voice) -> str:
    """Where two cuts come nearest, on the face."""
    x, y = (wall.a[0] + wall.b[0]) / 2.0, (wall.a[1] + wall.b[1]) / 2.0
    left = sides(plan.cut.face)[0]
    return f"{voice.about(x)} along the grain from the {left}, {voice.about(y)} from the lower edge"


def work_words(
    sheet: SharedSheet, members: Sequence[OpeningPlan], layings: Sequence[LaidAgain], voice: Voice, number: int
) -> list[Block]:
    """The work at the bench, from the sheet made ready to the mirrored board, in headings numbered from `number`.

    layings: where else the sheet is laid.
    """
    ordered, home = in_order(members), Site.of(sheet.first.cut)
    lines = strip_words(number, sheet.first, voice, sheet)
    lines += section(f"{number + 1}. Lay the sheet once for all its openings", _laid(sheet, ordered, voice))
    number += 2
    before: TemplatePlan | None = None
    for place, member in enumerate(ordered, start=1):
        title = f"{number}. Opening {place} of {len(ordered)}: {member.name}, with the hand-held router"
        lines += section(title, [*_fitted(member, before), *member.routing_words()])
        before = member.template
        number += 1
    for laying in layings:
        lines += section(f"{number}. Again: {laying.title}", laying_words(laying, home, ordered, voice))
        number += 1
    turned = [each for each in ordered if each.both_hands]
    if turned:
        which = "all its openings" if len(turned) == len(ordered) else "only " + ", ".join(each.name for each in turned)
        title = f"{number}. The same for the opposite hand, in the mirrored board: {which}"
        again = [*turning_lines(sheet.first, voice), "Then as before, opening by opening, each at its own settings."]
        again += [
            f"Leave the opening of {each.name} alone: it is drawn for one hand."
            for each in ordered
            if not each.both_hands
        ]
        names = [each.name for each in turned]
        again += [
            mirrored_words(laying, home, sheet.first, names, voice)
            for laying in layings
            if laying.step(home) and set(names) & set(laying.joints)
        ]
        lines += section(title, again)
        number += 1
    return [*lines, *_after(ordered, number)]


def _after(ordered: Sequence[OpeningPlan], number: int) -> list[Block]:
    """What is made when all cuts are, said once for joints that want the same."""
    found: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for each in ordered:
        if after := each.after_words():
            title, said = after
            found.setdefault((title, tuple(said)), []).append(each.name)
    words: list[Block] = []
    for (title, lines), names in found.items():
        words += section(f"{number}. {title} for {' and as many for '.join(names)}", lines)
        number += 1
    return words


def _laid(sheet: SharedSheet, ordered: Sequence[OpeningPlan], voice: Voice) -> Iterator[str]:
    yield from ordered[0].held_words()
    yield laying_line(sheet.first, voice, [each.template for each in ordered])
    yield (
        "Leave it clamped until the last opening is routed, changes of bit, bushing and depth included: what lies "
        "between the joints is then held by the sheet."
    )
    marks = "name, bit, bushing and depth" if sheet.both_pairs else "name and depth"
    yield f"Each opening has its {marks} beside it; read them before the router is switched on."


def _fitted(member: OpeningPlan, before: TemplatePlan | None) -> Iterator[str]:
    """What is in the router for an opening, against the one before it."""
    plan = member.template
    if before is None:
        yield f"Fit {plan.bit.name}, with {plan.bushing.name} in the base."
        return
    changed = [
        f"{new.name} instead of {old.name}"
        for new, old in ((plan.bit, before.bit), (plan.bushing, before.bushing))
        if new.name != old.name
    ]
    if changed:
        yield f"Fit {' and '.join(changed)}; the sheet stays where it is."
    else:
        yield f"{plan.bit.name} and {plan.bushing.name} stay in the router; set the depth anew, from the first pass on."
