"""Rules about the words of a file: each text of `faulty_texts`, as the proof speaks of it."""

from __future__ import annotations

from support.faulty_texts import FAULTY_LINES, OPENING, REMARKABLE, WHOLE_FILES
from support.hand_files import slot_file
from support.hand_targets import target_of
from support.rule_cases.case import Case, Say, case, said

from jigcam.kit import load_kit
from jigcam.proof import prove

KIT = load_kit("inch-shop")
SLOT = slot_file()
TEXTS = {
    **{rule: f"{OPENING}{lines[0]}\nM2\n" for rule, lines in FAULTY_LINES.items()},
    **{rule: texts[0] for rule, texts in WHOLE_FILES.items()},
    **REMARKABLE,
    "offset-unknown": SLOT.text.replace("\nG0 Z1.", "\nG92.3\nG0 Z1.", 1),
}


def read(text: str) -> Say:
    """What the proof says of a text."""
    return said(lambda: prove(text, target_of(SLOT), KIT.machine, KIT.bit("straight 1/4")).findings)


SOUND = read(SLOT.text)
WORDS: dict[str, Case] = {rule: case(read(text), silent=SOUND) for rule, text in TEXTS.items()}
