"""For every finding of the program: what makes it speak, at each of its levels, and what keeps it silent."""

from __future__ import annotations

from collections.abc import Mapping

from support.rule_cases.case import Case
from support.rule_cases.dovetails import DOVETAILS
from support.rule_cases.files import FILES
from support.rule_cases.fingers import FINGERS
from support.rule_cases.grooves_and_keys import GROOVES_AND_KEYS
from support.rule_cases.mortises import MORTISES
from support.rule_cases.rabbets import RABBETS
from support.rule_cases.sliding_dovetails import SLIDING_DOVETAILS
from support.rule_cases.templates import TEMPLATES
from support.rule_cases.tools import TOOLS
from support.rule_cases.words import WORDS

from jigcam.piece.rules import RULES as PIECE

PARTS = (
    GROOVES_AND_KEYS,
    DOVETAILS,
    FINGERS,
    RABBETS,
    MORTISES,
    SLIDING_DOVETAILS,
    TEMPLATES,
    FILES,
    TOOLS,
    WORDS,
)

CASES: Mapping[str, Case] = {name: case for part in PARTS for name, case in part.items()}

WITHOUT_CASE: Mapping[str, str] = dict.fromkeys(
    PIECE, "of several joints in one board, as drawn and from their files: tests/piece speaks each"
)
"""Rules without a case, and why."""

assert len(CASES) == sum(map(len, PARTS)), "each rule has one case"
