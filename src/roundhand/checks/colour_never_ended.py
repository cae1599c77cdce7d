"""A colour is laid down for good and nothing says that it is cut.

A maker carries it on to the end, or weaves in an end that is still on the ball.

Bad:
    MATERIALS
    Yarn A: worsted, slate
    Yarn B: worsted, samphire
    CAP
    Rnd 1: With A, 6 sc in a magic ring. (6)
    Rnd 2: With B, inc in each st around. (12)
    Rnd 3: With A, sc in each st around. (12)
    Fasten off.

Good:
    MATERIALS
    Yarn A: worsted, slate
    Yarn B: worsted, samphire
    CAP
    Rnd 1: With A, 6 sc in a magic ring. (6)
    Rnd 2: With B, inc in each st around. (12)
    Cut B.
    Rnd 3: With A, sc in each st around. (12)
    Fasten off.
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding
from roundhand.tally import RowTally

GROUP = "colours"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every colour that is used and never cut or fastened off afterwards."""
    if not any(yarn.label for yarn in sheet.pattern.yarns):
        return
    open_at: dict[tuple[int, str], tuple[RowTally, list[int]]] = {}
    ends_somewhere = False
    for size in range(len(sheet.pattern.sizes)):
        order: list[tuple[int, int, str, str, RowTally | None]] = []
        for number, piece in enumerate(sheet.tally.pieces):
            for event in piece.events[size]:
                row = piece.rows[event.row] if 0 <= event.row < len(piece.rows) else None
                order.append((number, event.row, event.act, event.colour, row))
        last_use: dict[str, tuple[tuple[int, int], RowTally]] = {}
        ended: dict[str, tuple[int, int]] = {}
        in_hand = ""
        for number, at, act, colour, row in order:
            if act == "use" and row is not None:
                last_use[colour] = ((number, at), row)
                in_hand = colour
            elif act in ("cut", "fasten"):
                ends_somewhere = True
                for label in {colour, in_hand if act == "fasten" else colour}:
                    ended[label] = max(ended.get(label, (-1, -1)), (number, at))
        final = max((place for place, _ in last_use.values()), default=(-1, -1))
        for colour, (place, row) in last_use.items():
            if ended.get(colour, (-1, -1)) >= place or (place == final and not ends_somewhere):
                continue
            if (
                place == final
                and not any(part.name.lower().startswith("finish") for part in sheet.pattern.parts)
                and not ended
            ):
                continue
            open_at.setdefault((id(row.line), colour), (row, []))[1].append(size)
    for (_, colour), (row, sizes) in open_at.items():
        label = row.label_in(sizes[0])
        yield Finding(
            "colour-never-ended",
            "warning",
            f"{colour} is never cut",
            row.line.label.span,
            tuple(sheet.pattern.sizes[size] for size in sizes),
            row=label,
            because=f"{label} is the last row in {colour}, and nothing after it says to cut or fasten it off",
            help=f"say \u201cCut {colour}\u201d after its last row",
            facts={"colour": colour, "last_row": label},
            label=f"last row in {colour}",
        )
