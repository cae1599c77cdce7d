"""The hook is far from what is usual for yarn of this weight.

One of the two is perhaps a slip, and a maker who buys by it gets a board or a net. If it is meant, a word on the
fabric that it should make keeps her from doubting it.

Bad:
    MATERIALS
    Yarn: worsted
    Hook: 2.5 mm
    CAP
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)

Good:
    MATERIALS
    Yarn: worsted
    Hook: 5 mm
    CAP
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.gauge_unlike_yarn import unlike
from roundhand.checks.hooks import hook_places, millimetres
from roundhand.checks.weights import LOOSE, SEVERAL, TIGHT, YarnWeight, classes_of, hook_band, widened
from roundhand.findings import Finding

GROUP = "materials"

# Designers go up and down a good deal; beyond two classes of yarn it is seldom meant.
_TO_SPARE = 2


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding where all yarns are of one weight and the hook is far from what is usual for it."""
    hook = sheet.pattern.hook_mm
    if hook is None or not sheet.pattern.yarns or SEVERAL.search(sheet.text) or any(unlike(sheet)):
        # A gauge that does not belong to the yarn either is told there: the weight may be the slip.
        return
    said = [classes_of(yarn, yarn.span.of(sheet.text)) for yarn in sheet.pattern.yarns]
    if not all(said):
        return
    classes = tuple({one.number: one for each in said for one in each}.values())
    least, most = hook_band(widened(classes, _TO_SPARE))
    thin, thick = float(hook) < least, most is not None and float(hook) > most
    if (thin and not TIGHT.search(sheet.text)) or (thick and not LOOSE.search(sheet.text)):
        yield _finding(sheet, classes, float(hook), thin)


def _finding(sheet: Sheet, classes: tuple[YarnWeight, ...], hook: float, thin: bool) -> Finding:
    yarn = sheet.pattern.yarns[0]
    weight = yarn.weight or classes[0].names[0]
    least, most = hook_band(classes)
    usual = f"{least:g} to {most:g} mm" if most is not None else f"{least:g} mm and more"
    place = next((span for span in hook_places(sheet.paper) if millimetres(span.of(sheet.text))), yarn.span)
    return Finding(
        "hook-unlike-yarn",
        "advice",
        f"{hook:g} mm is {'thin' if thin else 'thick'} for {weight}",
        place,
        because=f"for {weight} {usual} is usual (a guideline and no rule)",
        help="look at both once more; if it is meant, say how the fabric should feel",
        facts={"hook_mm": hook, "weight": weight, "usual_least_mm": least, "usual_most_mm": most},
        label="meant?",
    )
