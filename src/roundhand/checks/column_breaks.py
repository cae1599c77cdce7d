"""Something that stands one above the other in the rows around does not in this row, though its count is right.

Two numbers exchanged, or an increase and a decrease both forgotten, leave the total as it was. No count shows it; the
maker sees a rib, a gusset or a motif step aside, or her post stitch has no post to go round.

Bad:
    Ch 41.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (40)
    Row 2: Ch 1, sc in next 13 sts, fpdc around next st, sc in next 26 sts, turn. (40)
    Row 3: Ch 1, sc in next 26 sts, bpdc around next st, sc in next 13 sts, turn. (40)
    Row 4: Ch 1, sc in next 13 sts, fpdc around next st, sc in next 26 sts, turn. (40)
    Row 5: Ch 1, sc in next 13 sts, bpdc around next st, sc in next 26 sts, turn. (40)
    Row 6: Ch 1, sc in next 13 sts, fpdc around next st, sc in next 26 sts, turn. (40)

Good:
    Ch 41.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (40)
    Row 2: Ch 1, sc in next 13 sts, fpdc around next st, sc in next 26 sts, turn. (40)
    Row 3: Ch 1, sc in next 26 sts, bpdc around next st, sc in next 13 sts, turn. (40)
    Row 4: Ch 1, sc in next 13 sts, fpdc around next st, sc in next 26 sts, turn. (40)
    Row 5: Ch 1, sc in next 26 sts, bpdc around next st, sc in next 13 sts, turn. (40)
    Row 6: Ch 1, sc in next 13 sts, fpdc around next st, sc in next 26 sts, turn. (40)
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise

import msgspec

from roundhand.checks.edit import Sheet
from roundhand.checks.lopsided import leaning
from roundhand.findings import Finding, Mark, Span
from roundhand.measures import say_count
from roundhand.tally.across import Across

GROUP = "shaping"

# So many rows show how they go on, so that one of them can be odd; and so many that all of one side are.
_FEWEST, _FEWEST_MIRRORED = 4, 4
# Of more rows than this nobody tells one that is odd by what the others do.
_MOST = 200
# Texture must have come and gone before one row is odd.
_FEWEST_ALTERNATING = 5
# Shaping nearer to an edge belongs to the edge, and that may be shaped at the beginning of every row.
_FROM_EDGE = 3


class _Break(msgspec.Struct, frozen=True):
    """A row that breaks with the others: what is said of it, why, and a way on. `by` tells the kind."""

    row: Across
    like: Across
    headline: str
    because: str
    help: str
    by: str


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every row whose features leave the columns of the rows around it."""
    told: dict[Span, tuple[_Break, list[int]]] = {}
    for at, piece in enumerate(sheet.tally.pieces):
        if len(piece.rows) < _FEWEST:
            continue
        for size in range(len(sheet.pattern.sizes)):
            rows = sheet.across(at, size)
            leans = {row.at for row, _, _ in leaning(rows)}
            for one in _breaks(rows):
                if one.row.at in leans:
                    # A row that is shaped otherwise at one side is told as that.
                    continue
                told.setdefault(one.row.row.line.span, (one, []))[1].append(size)
    for one, sizes in told.values():
        label = one.row.row.label_in(sizes[0])
        feature = next(iter(one.row.features), None)
        yield Finding(
            "column-breaks",
            "advice" if one.by == "motif" else "warning",
            one.headline,
            feature.span if feature is not None and feature.span.start >= one.row.row.line.span.start else _label(one),
            tuple(sheet.pattern.sizes[size] for size in dict.fromkeys(sizes)),
            row=label,
            because=one.because,
            help=one.help,
            facts={"before": one.row.raw, "like": one.like.row.label_in(sizes[0]), "kind": one.by},
            see=(Mark(one.like.row.line.label.span, "here it is as in the other rows"),),
            label="out of its column",
        )


def _label(one: _Break) -> Span:
    return one.row.row.line.label.span


def _breaks(across: Sequence[Across]) -> Iterator[_Break]:
    rows = [row for row in across if row.features]
    for _, part in groupby(rows, key=lambda row: row.row.part):
        own = list(part)
        for rule in (_mirrored, _odd_gaps, _lacking, _alternating):
            found = list(rule(_laid(own) if rule is not _mirrored else own))
            yield from found
            if found:
                break


def _laid(rows: list[Across]) -> list[Across]:
    """Rows laid one above the other; those to and fro whose words are all alike as they are written."""
    if all(row.kinds == row.kinds[::-1] for row in rows) or len({row.turned for row in rows}) == 1:
        return rows
    raw = [
        msgspec.structs.replace(row, turned=False, gaps=row.raw, features=row.features[:: -1 if row.turned else 1])
        for row in rows
    ]
    return raw if len({row.kinds for row in raw}) < len({row.kinds for row in rows}) else rows


def _odd_gaps(rows: Sequence[Across]) -> Iterator[_Break]:
    """The one row whose gaps do not go on as those of all the others with the same features do."""
    kinds: dict[tuple[str, ...], list[Across]] = {}
    for row in rows:
        kinds.setdefault(row.kinds, []).append(row)
    for alike in kinds.values():
        if not _FEWEST <= len(alike) <= _MOST or _goes_on(alike) or not _is_kept(alike[0]):
            continue
        odd = [at for at in range(len(alike)) if _goes_on([*alike[:at], *alike[at + 1 :]])]
        if len(odd) != 1:
            continue
        at = odd[0]
        row = alike[at]
        wanted = _expected(alike, at)
        if wanted is None or sum(wanted) != sum(row.gaps) or _only_turned(row, wanted):
            continue
        like = alike[at - 1] if at else alike[1]
        now, then = row.raw, wanted[::-1] if row.turned else wanted
        place = next(place for place, (one, other) in enumerate(zip(now, then, strict=True)) if one != other)
        yield _Break(
            row,
            like,
            f"{say_count(now[place], 'plain st')} where {then[place]} would keep the columns",
            f"by the rows around, the plain sts between would be {_say(then)}, and here they are {_say(now)}; "
            "the total is the same",
            f"look whether two numbers are exchanged: {_say(then)} stands over the rows below",
            "gaps",
        )


def _alternating(rows: Sequence[Across]) -> Iterator[_Break]:
    """A row whose motifs stand over those of the row of motifs below it, where all the others stand between them."""
    kinds: dict[tuple[str, ...], list[Across]] = {}
    for row in rows:
        kinds.setdefault(row.kinds, []).append(row)
    for alike in kinds.values():
        gaps = [row.gaps for row in alike]
        if len(alike) < _FEWEST_ALTERNATING or _is_kept(alike[0]) or len(set(gaps)) != 2:
            continue
        odd = [at for at, gap in enumerate(gaps) if gap != gaps[at % 2]]
        if gaps[0] == gaps[1] or len(odd) != 1 or odd[0] < _FEWEST_ALTERNATING - 2:
            continue
        row, below = alike[odd[0]], alike[odd[0] - 1]
        yield _Break(
            row,
            below,
            f"{row.row.label} stands over {below.row.label}; the rows before it alternate",
            "in the rows above and below the motifs stand between those of the last such row, and here over them",
            f"{_say(alike[odd[0] - 2].raw)} plain sts between would keep the motifs apart",
            "motif",
        )


def _is_kept(row: Across) -> bool:
    """Whether its features are such as keep to their columns: shaping, or posts; what lies between them may be moved
    about, as texture is."""
    return all(feature.shapes or "post" in feature.kind for feature in row.features)


def _only_turned(row: Across, wanted: tuple[int, ...]) -> bool:
    """Whether a round only has its even shaping moved round, as designers do to keep a circle from showing corners."""
    if not all(feature.shapes for feature in row.features):
        return False
    mine = [*row.gaps[1:-1], row.gaps[0] + row.gaps[-1]]
    theirs = [*wanted[1:-1], wanted[0] + wanted[-1]]
    if row.row.kind == "round":
        return sorted(mine) == sorted(theirs) and max(mine) - min(mine) <= 1
    # Shaping spread evenly over a flat row may lie anywhere.
    inner = row.gaps[1:-1]
    return len(inner) > 1 and max(inner) - min(inner) <= 1


def _goes_on(rows: Sequence[Across]) -> bool:
    """Whether every gap stays as it is, or grows by the same number from row to row."""
    if len(rows) < 2:
        return False
    for gap in zip(*(row.gaps for row in rows), strict=True):
        by_row = {
            (gap[at] - gap[0]) * (rows[-1].at - rows[0].at) - (gap[-1] - gap[0]) * (rows[at].at - rows[0].at)
            for at in range(len(gap))
        }
        if by_row != {0}:
            return False
    return True


def _expected(rows: Sequence[Across], at: int) -> tuple[int, ...] | None:
    """The gaps that a row would have if it went on as the others do; None where they are no whole numbers."""
    others = [*rows[:at], *rows[at + 1 :]]
    first, last = others[0], others[-1]
    span = last.at - first.at
    wanted = []
    for low, high in zip(first.gaps, last.gaps, strict=True):
        step = (high - low) * (rows[at].at - first.at)
        if span == 0 or step % span:
            return None
        wanted.append(low + step // span)
    return tuple(wanted) if min(wanted) >= 0 else None


def _mirrored(rows: Sequence[Across]) -> Iterator[_Break]:
    """Rows to and fro whose words are the same on both sides, so that what stands aside of the middle goes to and fro.

    Shaping at an edge is left alone: an edge may well be shaped at the beginning of every row.
    """
    turned = [row for row in rows if row.turned]
    straight = [row for row in rows if not row.turned]
    if len(rows) < _FEWEST_MIRRORED or len(turned) < 2 or len(straight) < 2:
        return
    first = rows[0]
    if any(row.at + 1 != after.at for row, after in pairwise(rows)):
        return
    kinds = first.kinds
    ends = first.raw[0], first.raw[-1]
    if any((row.raw[0], row.raw[-1]) != ends or row.kinds != kinds for row in rows) or kinds != kinds[::-1]:
        return
    posts = all("post" in kind for kind in kinds) and all(row.raw == first.raw for row in rows)
    gusset = len(kinds) > 1 and all(feature.shapes for feature in first.features) and min(ends) >= _FROM_EDGE
    aside = abs(ends[0] - ends[1])
    if not (posts or gusset) or aside < 2:
        return
    row = turned[0]
    yield _Break(
        row,
        straight[0],
        "these words stand aside of the middle, and the work is turned",
        f"{say_count(first.raw[0], 'st')} before and {first.raw[-1]} behind in every row: worked back, this lies "
        f"{say_count(aside, 'st')} beside its like in the row below",
        f"begin with {say_count(first.raw[-1], 'st')} on the way back",
        "mirrored",
    )


def _lacking(rows: Sequence[Across]) -> Iterator[_Break]:
    """A row that has not all the features of the rows around it, while those it lacks cancel each other."""
    often = Counter(row.kinds for row in rows)
    if len(often) != 2 or min(often.values()) != 1 or len(rows) <= _FEWEST:
        return
    (kinds, _), (few, _) = often.most_common(2)
    at = next(at for at, row in enumerate(rows) if row.kinds == few)
    if not 0 < at < len(rows) - 1:
        return
    row = rows[at]
    others = [*rows[:at], *rows[at + 1 :]]
    lost = _lost(kinds, row.kinds)
    if lost is None or len(lost) * 2 > len(kinds):
        return
    change = [other.makes - other.uses for other in others[0].features]
    if sum(change[place] for place in lost) or not any(change[place] for place in lost):
        return
    names = " and ".join(dict.fromkeys(_said(kinds[place]) for place in lost))
    yield _Break(
        row,
        rows[at - 1],
        f"{names} of the rows around are not here, and the count hides it",
        f"{row.row.label} has {len(row.kinds)} of the {len(kinds)} places that are shaped in each of the other "
        f"{len(others)} rows; what is missing makes as many sts as it takes",
        "look whether an increase and a decrease were forgotten together",
        "lacking",
    )


def _lost(kinds: tuple[str, ...], fewer: tuple[str, ...]) -> list[int] | None:
    """The positions of the kinds that are left out; None where the others do not follow in the same order."""
    lost: list[int] = []
    at = 0
    for place, kind in enumerate(kinds):
        if at < len(fewer) and fewer[at] == kind:
            at += 1
        else:
            lost.append(place)
    return lost if at == len(fewer) else None


def _said(kind: str) -> str:
    if kind.startswith("increase"):
        return "an increase"
    if kind.startswith("decrease"):
        return "a decrease"
    return kind.replace("_", " ")


def _say(gaps: Sequence[int]) -> str:
    return ", ".join(map(str, gaps))
