"""What the tests of all kinds ask of each: a module `support/kinds/KIND.py`, found by the name of the kind.

It holds `jobs()`, a hypothesis strategy of jobs with one joint of that kind as tables, each of which the metric shop
can make; and `SMALL`, one such job whose files are few and short, of which the golden files are kept.
"""

from __future__ import annotations

from importlib import import_module

from hypothesis import strategies as st
from support.jobs import Table


def jobs(kind: str) -> st.SearchStrategy[Table]:
    """The strategy of a kind. Fails with a ModuleNotFoundError where the kind has none."""
    strategy: st.SearchStrategy[Table] = import_module(_module(kind)).jobs()
    return strategy


def small(kind: str) -> Table:
    """The small job of a kind."""
    table: Table = import_module(_module(kind)).SMALL
    return table


def _module(kind: str) -> str:
    return f"support.kinds.{kind.replace('-', '_')}"


def job(boards: dict[str, Table], joint: Table) -> Table:
    """A job of the metric shop with one joint."""
    return {
        "job": "Sheet-music cabinet",
        "units": "mm",
        "kit": "metric-shop",
        "boards": boards,
        "joints": [joint],
    }


def sizes(low: float, high: float) -> st.SearchStrategy[float]:
    """Lengths in tenths of a millimetre, so that failures are readable."""
    return st.integers(round(low * 10), round(high * 10)).map(lambda n: n / 10)
