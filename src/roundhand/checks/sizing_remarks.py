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
        help=remark.help,
        facts={"words": remark.span.of(sheet.text)},
    )
