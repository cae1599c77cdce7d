"""The hook's size in millimetres is not the one that its letter or number stands for.

One maker reads the letter and another the millimetres, and they work with different hooks.

Bad:
    MATERIALS
    Yarn: worsted
    Hook: 5 mm (I-9)
    CAP
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)

Good:
    MATERIALS
    Yarn: worsted
    Hook: 5 mm (H-8)
    CAP
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from roundhand.checks.edit import Sheet
from roundhand.checks.hooks import Called, called, hook_places, hook_sizes, sizes_called
from roundhand.findings import Finding, Mark

GROUP = "materials"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every hook whose letter or US number means another size than the one beside it."""
    for place in hook_places(sheet.paper):
        for hook in called(sheet.paper, place):
            meant = sizes_called(hook.letter, hook.number)
            if hook.mm is None or hook.mm_span is None or not _sure(hook) or any(one.mm == hook.mm for one in meant):
                continue
            found = [one.mm for one in meant if one.evidence == "found"]
            if meant and not found:
                continue
            yield _finding(hook, found)


def _sure(hook: Called) -> bool:
    """Whether the table is good enough for this hook: beyond L makers of hooks letter them as they like."""
    large = {letter for size in hook_sizes() if size.mm > 8 for letter in size.letters}
    return not hook.letter or not set(hook.letter.split("/")) & large


def _finding(hook: Called, meant: list[Fraction]) -> Finding:
    assert hook.mm is not None and hook.mm_span is not None
    said = f"{_mm(hook.mm)} and {hook.words}"
    if meant:
        because = f"{hook.words} is usually {' or '.join(_mm(one) for one in meant)}"
    else:
        because = f"no hook is called {hook.words} in the usual tables"
    proper = next((one for one in hook_sizes() if one.mm == hook.mm and one.kind == "yarn" and one.us_number), None)
    name = _name(proper.letters, proper.us_number) if proper is not None and proper.evidence == "found" else ""
    return Finding(
        "hook-differs",
        "warning",
        f"{said} are two different hooks",
        hook.mm_span.to(hook.span),
        because=because,
        help=f"say which is meant; {_mm(hook.mm)} is {name}" if name else "say which of the two is meant",
        facts={"hook": hook.words, "said_mm": float(hook.mm), "usual_mm": float(meant[0]) if meant else None},
        see=(Mark(hook.span, hook.words),),
        label="which of the two?",
    )


def _mm(value: Fraction) -> str:
    return f"{float(value):g} mm"


def _name(letters: tuple[str, ...], number: str) -> str:
    return f"{'/'.join(letters)}-{number}" if letters else f"US {number}"
