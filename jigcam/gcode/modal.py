"""The G and M codes of RS-274/NGC and their modal groups (NISTIR 6556, section 3.4, Table 4).

A G code is held in tenths, as a whole number: G59.3 is 593, G1 is 10.
"""

from __future__ import annotations

from jigcam.gcode.faults import Objection
from jigcam.gcode.words import Block

NON_MODAL = 0
MOTION_GROUP, PLANE_GROUP, DISTANCE_GROUP, FEED_GROUP, UNITS_GROUP = 1, 2, 3, 5, 6
CUTTER_GROUP, LENGTH_GROUP, RETRACT_GROUP, SYSTEM_GROUP, PATH_GROUP = 7, 8, 10, 12, 13

_G_GROUPS: dict[int, tuple[int, ...]] = {
    NON_MODAL: (40, 100, 280, 300, 530, 920, 921, 922, 923),
    MOTION_GROUP: (0, 10, 20, 30, 382, 800, 810, 820, 830, 840, 850, 860, 870, 880, 890),
    PLANE_GROUP: (170, 180, 190),
    DISTANCE_GROUP: (900, 910),
    FEED_GROUP: (930, 940),
    UNITS_GROUP: (200, 210),
    CUTTER_GROUP: (400, 410, 420),
    LENGTH_GROUP: (430, 490),
    RETRACT_GROUP: (980, 990),
    SYSTEM_GROUP: (540, 550, 560, 570, 580, 590, 591, 592, 593),
    PATH_GROUP: (610, 611, 640),
}
G_GROUP: dict[int, int] = {code: group for group, codes in _G_GROUPS.items() for code in codes}
"""Code in tenths → its group."""

STOP_GROUP, TOOL_GROUP, SPINDLE_GROUP, COOLANT_GROUP, OVERRIDE_GROUP = 4, 6, 7, 8, 9
M_GROUP: dict[int, int] = {
    0: STOP_GROUP,
    1: STOP_GROUP,
    2: STOP_GROUP,
    30: STOP_GROUP,
    60: STOP_GROUP,
    6: TOOL_GROUP,
    3: SPINDLE_GROUP,
    4: SPINDLE_GROUP,
    5: SPINDLE_GROUP,
    7: COOLANT_GROUP,
    8: COOLANT_GROUP,
    9: COOLANT_GROUP,
    48: OVERRIDE_GROUP,
    49: OVERRIDE_GROUP,
}

RAPID_CODE, LINE_CODE, CW_CODE, CCW_CODE, PROBE_CODE, NO_MOTION = 0, 10, 20, 30, 382, 800
CYCLES = frozenset(range(810, 891, 10))
AXES = frozenset("XYZABC")
ROTARY = frozenset("ABC")
AXIS_USERS = frozenset((100, 280, 300, 920))
"""Non-modal codes that take axis words (section 3.4)."""

HIGHEST_TOOL = 99_999
"""The standard leaves it to the machine's carousel; no shop has more."""
_CLOSE = 1e-4
"""A decimal this near to a whole number counts as that number (section 3.3.2.1)."""

USERS: dict[str, tuple[frozenset[int], str]] = {
    "D": (frozenset((410, 420)), "G41 and G42"),
    "H": (frozenset((430,)), "G43"),
    "I": (frozenset((20, 30, 870)), "G2, G3 and G87"),
    "J": (frozenset((20, 30, 870)), "G2, G3 and G87"),
    "K": (frozenset((20, 30, 870)), "G2, G3 and G87"),
    "L": (CYCLES | {100}, "G10 and canned cycles"),
    "P": (frozenset((40, 100, 820, 860, 880, 890)), "G4, G10, G82, G86, G88 and G89"),
    "Q": (frozenset((830,)), "G83"),
    "R": (CYCLES | {20, 30}, "G2, G3 and canned cycles"),
}
"""Letter → the codes that use it, and their names."""


def code_name(tenths: int) -> str:
    """G1, G59.3."""
    return f"G{tenths // 10}.{tenths % 10}" if tenths % 10 else f"G{tenths // 10}"


def whole(value: float) -> int | None:
    """The whole number that a value stands for, None if it is none."""
    nearest = round(value)
    return nearest if abs(value - nearest) <= _CLOSE else None


def sort_codes(block: Block) -> tuple[dict[int, int], dict[int, int]]:
    """The codes of a line, group → code: G codes in tenths, and M codes.

    Faults of form (unknown code, two of a group, too many M) are noted in the block.
    """
    g_codes: dict[int, int] = {}
    m_codes: dict[int, int] = {}
    m_count = 0
    for letter, value, column in block.codes:
        if letter == "G":
            code = whole(value * 10)
            group = G_GROUP.get(code) if code is not None else None
            if group is None or code is None:
                block.fault(column, "unknown-code", f"there is no G{value:g}")
            elif group in g_codes:
                block.fault(
                    column,
                    "same-group",
                    f"{code_name(g_codes[group])} and {code_name(code)} exclude each other in one line",
                )
            else:
                g_codes[group] = code
                block.columns[code_name(code)] = column
            continue
        m_count += 1
        number = whole(value)
        group = M_GROUP.get(number) if number is not None else None
        if group is None or number is None:
            block.fault(column, "unknown-code", f"there is no M{value:g}")
        elif group in m_codes:
            block.fault(column, "same-group", f"M{m_codes[group]} and M{number} exclude each other in one line")
        else:
            m_codes[group] = number
        if m_count == 5:
            block.fault(column, "too-many-m", "more than four M words in one line")
    return g_codes, m_codes


def motion_of(block: Block, g_codes: dict[int, int], motion_in_force: int) -> int | None:
    """The motion code that a line carries out, stated or in force, None if it moves nothing.

    Raises Objection where axis words and codes do not go together (sections 3.4 and 3.5).
    """
    axes = next((letter for letter in block.words if letter in AXES), "")
    covets = g_codes.get(NON_MODAL) in AXIS_USERS
    stated = g_codes.get(MOTION_GROUP)
    if stated is not None:
        if stated == NO_MOTION:
            if axes and not covets:
                raise Objection("g80-axis-words", "G80 takes no axis words", axes)
        elif covets:
            both = f"{code_name(stated)} and {code_name(g_codes[NON_MODAL])}"
            raise Objection("two-codes-use-axes", f"{both} both use axis words", code_name(stated))
        elif not axes:
            raise Objection("axis-words-missing", f"{code_name(stated)} without an axis word", code_name(stated))
        return stated
    if covets:
        if not axes and g_codes[NON_MODAL] in (100, 920):
            name = code_name(g_codes[NON_MODAL])
            raise Objection("axis-words-missing", f"{name} without an axis word", name)
        return None
    if axes:
        if motion_in_force == NO_MOTION:
            raise Objection("axis-words-unused", f"{axes} without a motion code in force", axes)
        return motion_in_force
    return None


def check_words(block: Block, g_codes: dict[int, int], motion: int | None) -> None:
    """Raise Objection for a word that no code on the line uses, and for values out of range (sections 3.5, 3.7)."""
    used = set(g_codes.values()) | ({motion} if motion is not None else set())
    words = block.words
    for letter in words:
        users = USERS.get(letter)
        if users and not users[0] & used:
            raise Objection("word-unused", f"{letter} is used only by {users[1]}", letter)
    for letter, rule in (("F", "feed-negative"), ("S", "speed-negative"), ("P", "p-negative")):
        if words.get(letter, 0.0) < 0:
            raise Objection(rule, f"{letter} is negative", letter)
    if "T" in words and (whole(words["T"]) is None or not 0 <= words["T"] <= HIGHEST_TOOL):
        raise Objection("tool-number", f"T is a whole number from 0 to {HIGHEST_TOOL}", "T")
    for letter in "DHL":
        if letter in words and (whole(words[letter]) is None or words[letter] < 0):
            raise Objection("not-whole", f"{letter} is a whole number, not negative", letter)
    if g_codes.get(NON_MODAL) == 40 and "P" not in words:
        raise Objection("dwell-missing", "G4 without P", "G4")
