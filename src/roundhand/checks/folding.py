"""One cause, one remark: findings that follow from another carry its name and place, and are folded away."""

from __future__ import annotations

import msgspec

from roundhand.findings import Finding, Source
from roundhand.notation.tree import Pattern, RowLine

# What is said of a row's stitches follows from these when they stand in the same row.
_CAUSES = (
    "words-unknown",
    "row-missing",
    "row-out-of-order",
    "size-list-length",
    "reference-incomplete",
    "definition-open",
    "limit-reached",
)
_EFFECTS = (
    "count-differs",
    "repeat-left-over",
    "too-few-stitches",
    "stitches-unworked",
    "chain-differs",
    "row-range-differs",
)

_COUNTS = (
    *_EFFECTS,
    "row-missing",
    "row-repeated",
    "row-out-of-order",
    "place-missing",
    "size-list-length",
    "words-unknown",
    "reference-incomplete",
)


def fold(findings: list[Finding], source: Source, pattern: Pattern) -> list[Finding]:
    """The findings in order, each that follows from another saying so; the same remark twice is said once."""
    unique: dict[tuple[str, int, int], Finding] = {}
    for finding in findings:
        place = (finding.name, finding.span.start, finding.span.end)
        known = unique.get(place)
        if known is None:
            unique[place] = finding
        else:
            sizes = tuple(size for size in pattern.sizes if size in known.sizes or size in finding.sizes)
            unique[place] = msgspec.structs.replace(known, sizes=sizes)
    kept = [_placed(finding, pattern) for finding in unique.values()]
    lines = sorted((line.span.start, line.span.end) for part in pattern.parts for line in part.lines)
    return [_followed(finding, kept, lines, source) for finding in kept]


def _placed(finding: Finding, pattern: Pattern) -> Finding:
    """A remark on words inside a row, given the row's label and the sizes it is for where it names none."""
    if finding.row and finding.sizes:
        return finding
    for part in pattern.parts:
        for line in part.lines:
            if not line.span.start <= finding.span.start <= line.span.end:
                continue
            sizes = finding.sizes or tuple(pattern.sizes[size] for size in line.sizes)
            row = finding.row
            if not row and isinstance(line, RowLine):
                at = next((pattern.sizes.index(name) for name in sizes if name in pattern.sizes), 0)
                row = line.label.words(at)
            return msgspec.structs.replace(finding, row=row, sizes=sizes)
    return finding if finding.sizes else msgspec.structs.replace(finding, sizes=pattern.sizes)


def _followed(finding: Finding, findings: list[Finding], lines: list[tuple[int, int]], source: Source) -> Finding:
    if finding.follows:
        return finding
    if finding.name in ("colour-never-ended", "colour-change-useless"):
        colour = finding.facts.get("colour")
        cause = next(
            (one for one in findings if one.name == "colour-unknown" and one.facts.get("colour") == colour), None
        )
        return _with(finding, cause, source)
    if finding.name in ("measure-differs", "yarn-short"):
        # Where the counts of a size are wrong its measurements are not to be trusted either.
        counts = [one for one in findings if one.name in _COUNTS and not one.follows]
        cause = next((one for one in counts if set(finding.sizes) <= set(one.sizes)), None)
        return _with(finding, cause, source)
    if finding.name not in _EFFECTS:
        return finding
    line = next(((start, end) for start, end in lines if start <= finding.span.start <= end), None)
    if line is None:
        return finding
    for cause in findings:
        if cause.name not in _CAUSES or cause is finding or not line[0] <= cause.span.start <= line[1]:
            continue
        if not finding.sizes or not cause.sizes or set(finding.sizes) <= set(cause.sizes):
            return _with(finding, cause, source)
    return finding


def _with(finding: Finding, cause: Finding | None, source: Source) -> Finding:
    if cause is None:
        return finding
    line, column = source.place(cause.span.start)
    return msgspec.structs.replace(finding, follows=f"{cause.name} {line}:{column}")
