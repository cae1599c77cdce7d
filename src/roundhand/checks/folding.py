"""One cause, one remark: findings that follow from another carry its name and place, and are folded away."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from roundhand.findings import Finding, Source
from roundhand.notation.tree import Pattern, RowLine

# What is said of a row's stitches follows from these when they stand in the same row.
_CAUSES = (
    "words-unknown",
    "bracket-alone",
    "star-alone",
    "row-missing",
    "row-out-of-order",
    "size-list-length",
    "reference-incomplete",
    "definition-open",
    "limit-reached",
    "as-before-open",
    "chart-alone",
)
_EFFECTS = (
    "count-differs",
    "named-groups-differ",
    "repeat-left-over",
    "too-few-stitches",
    "stitches-unworked",
    "chain-differs",
    "row-range-differs",
    "shaping-overruns",
    "place-missing",
)
# A label that does not follow, and so leaves a number without its row.
_NUMBERS = ("row-missing", "row-repeated", "row-out-of-order")

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


def with_followers(
    findings: Sequence[Finding], gone: Sequence[Finding], source: Source
) -> tuple[list[Finding], list[Finding]]:
    """The findings without those that are gone and without what follows from these; and all that went."""
    keys = {_key(one, source) for one in gone}
    taken = [any(one is other for other in gone) for one in findings]
    going = True
    while going:
        going = False
        for at, one in enumerate(findings):
            if not taken[at] and one.follows and one.follows in keys:
                taken[at] = going = True
                keys.add(_key(one, source))
    pairs = list(zip(findings, taken, strict=True))
    return [one for one, away in pairs if not away], [one for one, away in pairs if away]


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
    contradicted = _contradicted(finding, findings, lines)
    if contradicted is not None:
        return _with(finding, contradicted, source)
    if finding.name in ("colour-never-ended", "colour-change-useless"):
        # A mistyped label leaves the colour that was meant without its change and its end.
        colours = (finding.facts.get("colour"), finding.facts.get("next"))
        unknown = [one for one in findings if one.name == "colour-unknown"]
        cause = next((one for one in unknown if one.facts.get("colour") in colours), None)
        if cause is None and finding.name == "colour-never-ended":
            lost = [one for one in findings if one.name in ("colour-unknown", "row-missing")]
            cause = next((one for one in lost if one.span.start > finding.span.start), None)
        return _with(finding, cause, source)
    if finding.name in ("measure-differs", "yarn-short"):
        # Where the counts of a size are wrong its measurements are not to be trusted either.
        counts = [one for one in findings if one.name in _COUNTS and not one.follows]
        cause = next((one for one in counts if set(finding.sizes) <= set(one.sizes)), None)
        return _with(finding, cause, source)
    if finding.name in ("size-out-of-step", "ease-differs", "fits-no-head", "depth-not-growing"):
        # The same number, told already by what the counts and the gauge make of it.
        return _with(finding, _same_number(finding, findings), source)
    if finding.name == "limit-reached" and "limit" in finding.facts:
        # Rows that grow with every repeat grow because of the row that went wrong first.
        wrong = [one for one in findings if one.name in _EFFECTS and not one.follows]
        return _with(finding, next((one for one in wrong if one.span.start < finding.span.start), None), source)
    if finding.name in _NUMBERS:
        line_before = finding.facts.get("after_line")
        ranges = [one for one in findings if one.name in ("row-range-differs", "shaping-overruns")]
        cause = next((one for one in ranges if source.place(one.span.start)[0] == line_before), None)
        if cause is not None:
            return _with(finding, cause, source)
    if finding.name in ("reference-incomplete", "colour-change-elsewhere", "row-missing"):
        return _with(finding, _number_lost(finding, findings), source)
    if finding.name not in _EFFECTS:
        return finding
    line = next(((start, end) for start, end in lines if start <= finding.span.start <= end), None)
    if line is None:
        return finding
    for cause in findings:
        if cause is finding or not line[0] <= cause.span.start <= line[1]:
            continue
        apart = not cause.follows and not set(finding.sizes) & set(cause.sizes)
        if apart and cause.name == "repeat-left-over" and finding.name == "count-differs":
            # The same words of the same row: in some sizes the wrong repeat happens to come out.
            return _with(finding, cause, source)
        if cause.name not in _CAUSES or (cause.name in _NUMBERS and _stands_alone(finding)):
            continue
        if not finding.sizes or not cause.sizes or set(finding.sizes) <= set(cause.sizes):
            return _with(finding, cause, source)
    return finding


def _same_number(finding: Finding, findings: list[Finding]) -> Finding | None:
    """A remark on the counts or measures of some of the sizes that another one speaks of, weightier than that."""
    for one in findings:
        if one.follows or not (one.name == "measure-differs" or one.name in _COUNTS):
            continue
        if set(one.sizes) & set(finding.sizes):
            return one
    return None


def _contradicted(finding: Finding, findings: list[Finding], lines: list[tuple[int, int]]) -> Finding | None:
    """The note on chains that the count of a row speaks against, where a remark is on that row."""
    if finding.name not in _EFFECTS or finding.name == "place-missing":
        return None
    line = next(((start, end) for start, end in lines if start <= finding.span.start <= end), None)
    for one in findings:
        if one.name != "note-differs" or line is None:
            continue
        if any(line[0] <= mark.span.start <= line[1] for mark in one.see):
            return one
    return None


def _stands_alone(finding: Finding) -> bool:
    """Whether a count is wrong by the row's own words: what is worked in a ring does not ask what lies below it."""
    return finding.name == "count-differs" and finding.facts.get("below") == 0


def _number_lost(finding: Finding, findings: list[Finding]) -> Finding | None:
    """The remark on a label that a remark on the same missing number follows from: words that speak of a row that is
    not there, and the same gap seen by sizes that go on with a later line."""
    said = finding.facts.get("rows") or finding.facts.get("said") or finding.facts.get("expected")
    numbers = set(said) if isinstance(said, list | tuple) else {said}
    for one in findings:
        if one is finding or one.name not in _NUMBERS:
            continue
        expected = one.facts.get("expected")
        if not isinstance(expected, list | tuple) or not numbers & set(expected):
            continue
        if finding.name != "row-missing":
            return one
        same = one.name == "row-missing" and one.facts.get("after_line") == finding.facts.get("after_line")
        if same and one.span.start < finding.span.start and not set(one.sizes) & set(finding.sizes):
            return one
    return None


def _with(finding: Finding, cause: Finding | None, source: Source) -> Finding:
    if cause is None:
        return finding
    return msgspec.structs.replace(finding, follows=_key(cause, source))


def _key(finding: Finding, source: Source) -> str:
    """A finding's name and place, as those that follow from it name it."""
    line, column = source.place(finding.span.start)
    return f"{finding.name} {line}:{column}"
