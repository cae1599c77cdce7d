"""What a schedule begins on and what it comes to: the values that its rows are written out with."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import msgspec

from roundhand.findings import Finding
from roundhand.notation.tree import RowLine
from roundhand.tally.model import Offer, Worked
from roundhand.tally.section import Body


class Ground(msgspec.Struct, frozen=True):
    """What a schedule begins on in one size: what the row below offers, the label of its first row, how many rows there
    are until the next label (`room`) or by its own words (`rows`), how tall the piece is and a row of it, and a way to
    work a row."""

    offer: Offer
    start: int
    work: Callable[[Body, Offer], Worked | None]
    rows: int | None = None
    room: int | None = None
    tall: Fraction | None = None
    height: Fraction | None = None
    stated: int | None = None
    odd: bool = True
    following: Body | None = None


class Tried(msgspec.Struct, frozen=True):
    """The rows of one reading of a goal in one size, what is missing to it, and the count that would come next; `needs`
    is how many rows it would take where those are more than are worked."""

    rows: list[Body]
    left: int = 0
    over: int | None = None
    needs: int | None = None


class Written(msgspec.Struct, frozen=True):
    """The rows of a schedule in every size, and what is to be said of them."""

    blocks: tuple[tuple[Body, ...], ...]
    findings: tuple[Finding, ...] = ()
    like: bool = False


def row_label(line: RowLine, number: int) -> str:
    """The label of a row of a schedule, `Rnd 12`."""
    return f"{'Rnd' if line.label.kind == 'round' else 'Row'} {number}"


def row_word(line: RowLine) -> str:
    """What a row of a schedule is called, `row` or `rnd`."""
    return "rnd" if line.label.kind == "round" else "row"
