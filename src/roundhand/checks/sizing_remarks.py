"""Remarks on the sizing section as findings, for the checks that tell of them."""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Severity
from roundhand.sizing import Remark, remarks_on

# Those that have a page with a look of its own.
PAGES = ("quantity-circular", "quantity-not-whole", "sizing-stale")
# What does not stand in the way of working the rows as they are written.
_LOOK = ("sizing-stale", "words-unknown")

_BECAUSE = {
    "quantity-unknown": "without it there is no number to work by",
    "quantity-circular": "a count that waits for itself never gets a value",
    "quantity-not-whole": "half a stitch cannot be worked",
    "sizing-stale": "the rows are worked by the values, and not by the line above them",
    "gauge-missing": "only a gauge turns a length into stitches or rows",
    "unit-missing": "inches and centimetres give different counts",
    "rules-clash": "no count keeps all that is asked of it",
}


def remarked(sheet: Sheet, name: str) -> Iterator[Finding]:
    """The findings of one name."""
    for one in remarks_on(sheet.pattern, sheet.text):
        if one.what == name:
            yield finding(sheet, one)


def finding(sheet: Sheet, remark: Remark) -> Finding:
    """A remark as a finding, with the sizes it concerns."""
    names = sheet.pattern.sizes
    severity: Severity = "warning" if remark.what in _LOOK else "error"
    return Finding(
        remark.what,
        severity,
        remark.said,
        remark.span,
        tuple(names[size] for size in remark.sizes) or names,
        because=_BECAUSE.get(remark.what, ""),
        help=remark.help,
        facts={"words": remark.span.of(sheet.text)},
    )
