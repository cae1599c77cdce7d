"""The hook is given by a number or a letter alone, without millimetres.

Letters are known on one side of the ocean only, and numbers mean several hooks: a bare 7 may be 7 mm, a US 7 of 4.5
mm, or a steel hook as thin as a pin.

Bad:
    MATERIALS
    Yarn: worsted
    Hook: 7
    CAP
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)

Good:
    MATERIALS
    Yarn: worsted
    Hook: 4.5 mm (US 7)
    CAP
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.hooks import Called, bare_number, called, hook_places, hook_sizes, millimetres, sizes_called
from roundhand.findings import Edit, Finding, Span

GROUP = "materials"

_STEEL = re.compile(r"\bsteel\b|\blace hook\b", re.IGNORECASE)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every hook that has no size in millimetres."""
    if any(millimetres(place.of(sheet.text)) for place in hook_places(sheet.paper)):
        # One hook in millimetres is the one that matters; what stands beside it is its name.
        return
    for place in hook_places(sheet.paper):
        bare = bare_number(sheet.text, place)
        steel = _STEEL.search(place.of(sheet.text)) is not None
        if bare is not None and not steel:
            yield _number(*bare)
            continue
        for hook in called(sheet.paper, place):
            if not steel:
                yield _named(hook)


def _number(number: str, span: Span) -> Finding:
    meanings = _meanings(number)
    several = len(meanings) > 1
    return Finding(
        "hook-without-mm",
        "warning" if several else "advice",
        f"hook {number} may be {len(meanings)} different hooks" if several else f"the hook is {number}, without a unit",
        span,
        because=f"{number} may be {', '.join(meanings[:-1])} or {meanings[-1]}"
        if several
        else "hooks are sold by millimetres, by letters and by numbers, and this does not say which",
        help=f"write the size in millimetres, such as \u201c{meanings[0] if meanings else number + ' mm'}\u201d",
        facts={"hook": number, "meanings": tuple(meanings)},
        label="which hook?",
    )


def _meanings(number: str) -> list[str]:
    """The hooks that a number may stand for, as far as a table was found that says so."""
    found = [f"{number} mm"] if 0.5 <= float(number) <= 25 else []
    for size in hook_sizes():
        if size.evidence != "found":
            continue
        if size.us_number == number:
            kind = "steel" if size.kind == "steel" else "US"
            found.append(f"{kind} {number} ({float(size.mm):g} mm)")
        if size.uk_number == number:
            found.append(f"old UK {number} ({float(size.mm):g} mm)")
    same = [one for one in found if one.endswith(f"({number} mm)")]
    return [one for one in found if one not in same]


def _named(hook: Called) -> Finding:
    sizes = {float(size.mm) for size in sizes_called(hook.letter, hook.number)}
    found = [size for size in sizes_called(hook.letter, hook.number) if size.evidence == "found"]
    usual = f"{float(found[0].mm):g} mm" if found else ""
    sure = len(sizes) == 1 and bool(usual)
    return Finding(
        "hook-without-mm",
        "advice",
        f"the hook is {hook.words}, without millimetres",
        hook.span,
        because="letters and US numbers are not used everywhere, and makers of hooks do not all mean the same by them",
        help=f"write the millimetres beside it; {hook.words} is usually {usual}"
        if usual
        else "write the millimetres that stand on your hook beside it",
        facts={"hook": hook.words, "usual_mm": float(found[0].mm) if found else None},
        edits=(Edit(Span(hook.span.end, hook.span.end), f" ({usual})", "ask"),) if sure else (),
        label="how many mm?",
    )
