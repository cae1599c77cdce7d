"""A colour is changed to and then not used.

The last change of a block that is copied often has no row to serve; a maker joins a yarn for nothing.

Bad:
    MATERIALS
    Yarn A: worsted, slate
    Yarn B: worsted, samphire
    CAP
    Rnd 1: With A, 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around, changing to B in last st. (12)
    Cut A.
    Rnd 3: Sc in each st around, changing to A in last st. (12)
    Fasten off B.

Good:
    MATERIALS
    Yarn A: worsted, slate
    Yarn B: worsted, samphire
    CAP
    Rnd 1: With A, 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around, changing to B in last st. (12)
    Cut A.
    Rnd 3: Sc in each st around. (12)
    Fasten off B.
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Span
from roundhand.notation.tree import Copy, Evenly, Node, Times, Work, Yarn
from roundhand.tally import RowTally

GROUP = "colours"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every change at the end of a row whose colour does not begin the next."""
    found: dict[tuple[Span, str], tuple[RowTally, list[int], str]] = {}
    rows = list(sheet.tally.rows())
    for size in range(len(sheet.pattern.sizes)):
        worked = [row for row in rows if row.results[size] is not None]
        for at, row in enumerate(worked):
            change = _last_change(row.nodes[size] or ())
            if change is None:
                continue
            result = row.results[size]
            assert result is not None
            following = worked[at + 1].results[size] if at + 1 < len(worked) else None
            next_colour = following.colours[0] if following is not None and following.colours else ""
            if next_colour == change.colour or (result.colours[-1:] == (change.colour,) and following is None):
                continue
            if following is not None and not following.colours:
                continue
            span = _words(row, change)
            entry = found.setdefault((span, change.colour), (row, [], next_colour))
            if size not in entry[1]:
                entry[1].append(size)
    for (span, colour), (row, sizes, next_colour) in found.items():
        label = row.label_in(sizes[0])
        yield Finding(
            "colour-change-useless",
            "warning",
            f"changes to {colour} and never uses it"
            if not next_colour
            else f"changes to {colour}, but the next row is in {next_colour}",
            span,
            tuple(sheet.pattern.sizes[size] for size in sizes),
            row=label,
            because=(
                f"{label} is the last row, and its last stitch would change to {colour}"
                if not next_colour
                else f"the row after {label} begins with {next_colour}"
            ),
            help="leave the change out here, or say which colour to stay in",
            facts={"colour": colour, "next": next_colour},
            label=f"{colour} is not used",
        )


def _last_change(nodes: tuple[Node, ...]) -> Yarn | None:
    """The change of colour that stands behind all stitches of a row, if nothing takes it back."""
    change: Yarn | None = None
    stays = False
    for node in nodes:
        if isinstance(node, Work | Times | Evenly):
            change = None
        elif isinstance(node, Yarn) and node.act == "change" and node.colour:
            change = node
        elif isinstance(node, Yarn) and node.act in ("with", "join", "stay") and node.colour:
            change = None
            stays = stays or node.act == "stay"
        elif isinstance(node, Yarn) and node.act in ("cut",) and change is not None and node.colour == change.colour:
            change = None
    return change


def _words(row: RowTally, change: Yarn) -> Span:
    """Where the change is asked for: its own words, or those that copy the row."""
    line = row.line
    if line.span.start <= change.span.start <= line.span.end:
        return change.span
    copy = next((node for node in line.nodes if isinstance(node, Copy)), None)
    return copy.span if copy is not None else line.label.span
