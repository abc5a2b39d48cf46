"""Damages job and kit files byte by byte and reads them: whatever comes in is a job, a kit or an input error.

Run from the checkout: PYTHONPATH=tests python -m attacks.damage [--files N] [--seed S]
"""

from __future__ import annotations

import argparse
import random
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from jigcam.errors import InputError, JigcamError
from jigcam.joints import kind, kind_names, load_job
from jigcam.kit import load_kit, profiles_folder

SLOWEST = 20.0
"""s that reading may take at the most, even on a busy machine; undamaged files take some hundredths."""

TOKENS: Sequence[bytes | str] = (
    *(b'"', b"'", b'"""', b"'''", b"[", b"]", b"[[", b"]]", b"{", b"}", b"=", b".", b",", b"#", b"\n", b"\r", b"\\"),
    *(b"\x00", b"\x1b[2J", b"\x7f", b"\x80", b"\xc3", b"\xed\xa0\x80", b"\xf4\x90\x80\x80", b"\xef\xbb\xbf", b"\xff"),
    *("\u202e", "\u2066", "\u2028", "\u00a0", "\ufeff", "\U000e0041", "½", "″", "é"),
    *(b"nan", b"-inf", b"1e400", b"0x", b"0o7", b"1_0", b"-0", b"+", b"9" * 400, b"9" * 5000, b"true", b"1979-05-27"),
    *(b"07:32:00", b"1979-13-99", b"\\u0000", b"\\ud800", b"\\U00110000", b"{}", b"[]", b"[[]]", b"{a = {}}", b'""'),
    *(b"[" * 300, b"{a=" * 300, b"a." * 200, b'"1/0"', b'"-1 in"', b'"1e9 mm"', b"0.1.2", b"joints", b"[boards]"),
)
"""What is put into files; text is put in as UTF-8."""


@dataclass
class Tally:
    """What the damaged files came to. counts: by outcome; faults: what must not be, with how to see it again."""

    counts: Counter[str] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)
    slowest: float = 0.0


def sources() -> list[bytes]:
    """The shipped kits and starters: every kind of table, list and value that we read."""
    starters = [kind(name).starter(units).encode() for name in kind_names() for units in ("in", "mm")]
    return [*starters, *(path.read_bytes() for path in sorted(profiles_folder().rglob("*.toml")))]


def damaged(raw: bytes, others: Sequence[bytes], dice: random.Random) -> bytes:
    """The bytes with one to eight kinds of damage, somewhere."""
    for _ in range(dice.choice((1, 1, 1, 2, 3, 8))):
        at = dice.randrange(len(raw) + 1)
        to = min(len(raw), at + dice.choice((1, 1, 2, 5, 20, 200)))
        kind = dice.randrange(8)
        if kind == 0:
            raw = raw[:at] + raw[to:]
        elif kind == 1:
            raw = raw[:at] + bytes(dice.randrange(256) for _ in range(to - at)) + raw[to:]
        elif kind == 2:
            raw = raw[:at] + raw[at:to] * dice.choice((2, 3, 50)) + raw[to:]
        elif kind == 3:
            raw = raw[:at]
        elif kind == 4:
            other = dice.choice(others)
            raw = raw[:at] + other[dice.randrange(len(other)) :]
        elif kind == 5 and at < len(raw):
            raw = raw[:at] + bytes([raw[at] ^ 1 << dice.randrange(8)]) + raw[at + 1 :]
        elif kind == 6:
            lines = raw.split(b"\n")
            here, there = dice.randrange(len(lines)), dice.randrange(len(lines))
            lines[here], lines[there] = lines[there], lines[here]
            raw = b"\n".join(lines)
        else:
            raw = raw[:at] + _token(dice) + raw[at if dice.random() < 0.5 else to :]
    return raw


def _token(dice: random.Random) -> bytes:
    token = dice.choice(TOKENS)
    return token.encode("utf-8") if isinstance(token, str) else token


def value_damaged(raw: bytes, dice: random.Random) -> bytes:
    """The text with the value of one key replaced by some token: still TOML more often than not."""
    lines = raw.split(b"\n")
    places = [k for k, line in enumerate(lines) if b" = " in line and not line.startswith(b"#")]
    if places:
        place = dice.choice(places)
        lines[place] = lines[place].split(b" = ")[0] + b" = " + _token(dice)
    return b"\n".join(lines)


def with_every_value(raw: bytes, value: bytes) -> Iterator[bytes]:
    """The text with that value in place of each of its own, one after the other."""
    lines = raw.split(b"\n")
    for place, line in enumerate(lines):
        if b" = " in line and not line.startswith(b"#"):
            yield b"\n".join([*lines[:place], line.split(b" = ")[0] + b" = " + value, *lines[place + 1 :]])


def read_damaged(count: int, seed: int, tally: Tally) -> None:
    """Damage files, read each as a job and as a kit, and note how that ends."""
    dice = random.Random(seed)
    files = sources()
    for number in range(count):
        whole = dice.choice(files)
        raw = value_damaged(whole, dice) if dice.random() < 0.3 else damaged(whole, files, dice)
        read_both(raw, f"file {number} of seed {seed}", tally)


def read_both(raw: bytes, name: str, tally: Tally) -> None:
    """Read bytes as a job and as a kit, and note how that ends. name: how to see it again."""
    readers: Sequence[tuple[str, Callable[[Path], object]]] = (("job", load_job), ("kit", load_kit))
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "damaged.toml"
        path.write_bytes(raw)
        for what, read in readers:
            begun = time.monotonic()
            outcome = _outcome(read, path)
            took = time.monotonic() - begun
            tally.slowest = max(tally.slowest, took)
            tally.counts[f"{what}: {outcome}"] += 1
            if outcome not in ("read", "input error", "faults of its keys") or took > SLOWEST:
                tally.faults.append(f"{name} as a {what}: {outcome}, {took:.1f} s")


def _outcome(read: Callable[[Path], object], path: Path) -> str:
    try:
        read(path)
    except InputError as error:
        return "input error" if _is_plain(error) else f"an error that does not print: {error!s:.200}"
    except JigcamError as error:
        return "faults of its keys" if _is_plain(error) else f"an error that does not print: {error!s:.200}"
    except Exception as fault:
        return f"{type(fault).__name__}: {fault!s:.200}"
    return "read"


def _is_plain(error: JigcamError) -> bool:
    """Whether its words are lines that a screen may show."""
    return bool(str(error)) and all(line.isprintable() for line in str(error).split("\n"))


def main() -> int:
    """Print the counts; exit status 1 if anything was found."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--files", type=int, default=20_000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    tally = Tally()
    read_damaged(asked.files, asked.seed, tally)
    for what, count in sorted(tally.counts.items()):
        print(f"{count:8}  {what}")
    print(f"slowest: {tally.slowest:.2f} s")
    print("\n".join(tally.faults) or "nothing found")
    return bool(tally.faults)


if __name__ == "__main__":
    sys.exit(main())
