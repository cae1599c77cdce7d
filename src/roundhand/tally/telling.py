"""What is said of readings: which was taken and why, or that nothing tells which was meant."""

from __future__ import annotations

from collections.abc import Iterable

from roundhand.findings import Finding
from roundhand.measures import say_count
from roundhand.notation.tree import Times
from roundhand.tally.how_often import FIRST, LAST
from roundhand.tally.model import Chosen, PieceTally, RowTally

# How each reading of each kind of phrase is said; {} stands for the words themselves.
_SAID = {
    ("repeat times", "more"): "once, and then that many times more",
    ("repeat times", "in all"): "that many times in all",
    ("bracket times", "more"): "once, and then that many times more",
    ("bracket times", "in all"): "that many times in all",
    ("before colon", "first phrase"): "the number speaks of the first phrase alone",
    ("before colon", "whole group"): "the number speaks of all that stands behind the colon",
    ("every nth", LAST): "the increase stands in the last stitch of each group, and a rest is plain",
    ("every nth", FIRST): "the increase stands in the first stitch of each group, that of the rest as well",
    ("number of decreases", "so many"): "so many decreases, one after the other",
    ("number of decreases", "one of so many"): "one decrease that joins so many stitches",
    ("repeat from", "first phrase"): "the repeat begins with the first phrase of the row",
    ("repeat from", "second phrase"): "the repeat begins with the second phrase of the row",
    ("repeat from", "third phrase"): "the repeat begins with the third phrase of the row",
    ("repeat from", "fourth phrase"): "the repeat begins with the fourth phrase of the row",
    ("repeat from", "fifth phrase"): "the repeat begins with the fifth phrase of the row",
    ("repeat from", "sixth phrase"): "the repeat begins with the sixth phrase of the row",
    ("repeat from", "seventh phrase"): "the repeat begins with the seventh phrase of the row",
    ("repeat from", "eighth phrase"): "the repeat begins with the eighth phrase of the row",
    ("turning chain", "counts"): "the chain counts as a stitch",
    ("turning chain", "does not count"): "the chain is no stitch",
    ("chain of one", "counts"): "the chain counts as a stitch",
    ("chain of one", "does not count"): "the chain is no stitch",
    ("skipped chain", "counts"): "the skipped chains count as a stitch",
    ("skipped chain", "does not count"): "the skipped chains are no stitch",
    ("each stitch", "stitches"): "into the stitches alone",
    ("each stitch", "with chains"): "into the stitches and into every chain",
    ("left stitches", "own"): "to the end of the stitches in hand",
    ("left stitches", "with those left"): "on into the stitches left unworked before",
    ("slip stitches", "counted"): "the slip stitches are stitches of the row",
    ("slip stitches", "not counted"): "the slip stitches only lead on and are none",
    ("bare number", "one in each"): "one in each of so many stitches",
    ("bare number", "all in one"): "all in one stitch",
    ("around", "whole groups"): "whole groups only",
    ("around", "cut"): "the last group is cut short where the round ends",
    ("stated count", "stitches"): "stitches alone",
    ("stated count", "with chains"): "stitches and chains",
    ("depth below", "from this row"): "counted from the row being worked",
    ("depth below", "from the row below"): "counted from the row below",
    ("depth below", "counting this row"): "with the row being worked counted in",
    ("depth down", "from this row"): "counted from the row being worked",
    ("depth down", "from the row below"): "counted from the row below",
    ("depth down", "counting this row"): "with the row being worked counted in",
}
_CLEARER = {
    "repeat times": "\u201cmore times\u201d or \u201ctimes in all\u201d leaves no doubt",
    "bracket times": "\u201cN times\u201d alone behind the bracket, or \u201cN more times\u201d, leaves no doubt",
    "before colon": "a bracket of its own round what is worked so often leaves no doubt",
    "every nth": "say whether the row begins or ends with the increase, or state the count",
    "number of decreases": "\u201c(dec) N times\u201d, or the stitch by its name, \u201csc3tog\u201d, leaves no doubt",
    "repeat from": "put the star back in front of what is repeated",
    "turning chain": "say once whether the chain counts as a stitch, \u201chere and throughout\u201d",
    "chain of one": "say once that the chain counts as a stitch, \u201chere and throughout\u201d: usually one is none",
    "skipped chain": "say behind it whether the skipped chains count as a stitch",
    "each stitch": "\u201cin each st and in each ch\u201d leaves no doubt",
    "left stitches": "\u201cincluding the unworked sts\u201d, or a number, leaves no doubt",
    "slip stitches": "say behind them whether slip stitches count as stitches",
    "bare number": "\u201cin next st\u201d or \u201cin each of next 2 sts\u201d leaves no doubt",
    "around": "say where the round ends, as in \u201cending with 2 sc in last st\u201d",
    "stated count": "say once that the chains are counted",
    "depth below": "name the row, as in \u201cin next st of Rnd 3\u201d",
    "depth down": "say whether the row being worked is counted, or name the row",
}
_BY = {
    "counts": "the count written there",
    "places": "the number of stitches in the row below",
    "later counts": "the counts of the rows after it",
    "waiting places": "the only row with such places free",
    "foundation": "the number of rows that lie below",
}


def findings_on_readings(pieces: Iterable[PieceTally], text_sizes: tuple[str, ...]) -> list[Finding]:
    """`reading-chosen` where counts decided, `reading-unsure` where nothing did; each once for a kind and a reading."""
    said: set[tuple[str, ...]] = set()
    settled: set[str] = set()
    found: list[Finding] = []
    # What is said of a row whose count comes out in neither way says more than which way was taken.
    rows = [row for piece in pieces for row in piece.rows if not row.copied and not _is_wrong(row)]
    for row in rows:
        for chosen in row.chosen:
            if chosen.evidence in _BY and _needs_telling(chosen):
                settled.add(chosen.choice.kind)
                key = ("chosen", chosen.choice.kind, chosen.reading)
                if key not in said:
                    said.add(key)
                    found.append(_chosen(row, chosen, text_sizes))
    for row in rows:
        for chosen in row.chosen:
            kind = chosen.choice.kind
            unsure = chosen.evidence == "usage" and not chosen.choice.clear and len(set(chosen.counts.values())) > 1
            if unsure and kind not in settled and ("unsure", kind) not in said:
                said.add(("unsure", kind))
                found.append(_unsure(row, chosen, text_sizes))
    return found


def _is_wrong(row: RowTally) -> bool:
    """Whether a stated count of a row is not what it comes to."""
    return any(
        want is not None and result is not None and want != result.count
        for want, result in zip(row.stated, row.results, strict=True)
    )


def readings_of(row: RowTally, size: int) -> str:
    """What each reading of a row would come to in a size, in one sentence; empty where they all come to the same or
    the row has none."""
    told = []
    for chosen in row.chosen:
        counts = {reading: values[size] for reading, values in chosen.counts.items() if size < len(values)}
        if chosen.choice.kind.startswith("depth") or len(set(counts.values())) < 2 or chosen.evidence == "notes":
            continue
        kept = [reading for reading in _in_order(chosen) if (counts.get(reading) or -1) >= 0]
        if len(kept) > 1:
            makes = "; ".join(f"{_SAID[chosen.choice.kind, one]}, it makes {counts[one]}" for one in kept)
            told.append(f"read as {makes}")
    return "; ".join(told)


def _needs_telling(chosen: Chosen) -> bool:
    """Whether a reading was open, or went against plain usage.

    A row that works a fixed number tells by that number how far it goes; one that ends where it would needs no word."""
    if chosen.choice.kind in ("left stitches", "every nth"):
        return not chosen.choice.clear and chosen.reading != chosen.choice.readings[0]
    return not chosen.choice.clear or chosen.reading != chosen.choice.readings[0]


def _chosen(row: RowTally, chosen: Chosen, sizes: tuple[str, ...]) -> Finding:
    choice = chosen.choice
    makes = [f"{_SAID[choice.kind, reading]}, it {_comes_to(chosen, reading)}" for reading in _in_order(chosen)]
    return Finding(
        "reading-chosen",
        "advice",
        f"read so: {_SAID[choice.kind, chosen.reading]}",
        choice.span,
        _sizes(row, sizes),
        row=row.label,
        because=f"{_BY[chosen.evidence]} decides: read as {'; read as '.join(makes)}",
        help=_CLEARER[choice.kind],
        facts=_facts(chosen),
        label="can be read two ways",
    )


def _unsure(row: RowTally, chosen: Chosen, sizes: tuple[str, ...]) -> Finding:
    choice = chosen.choice
    makes = [f"{_SAID[choice.kind, reading]}, it {_comes_to(chosen, reading)}" for reading in _in_order(chosen)]
    return Finding(
        "reading-unsure",
        "warning",
        f"two ways to read this, and {'nothing below' if choice.kind.startswith('depth') else 'no count'} tells which",
        choice.span,
        _sizes(row, sizes),
        row=row.label,
        because=f"read as {'; read as '.join(makes)}; the first was taken",
        help=_CLEARER[choice.kind] + _exact(row, chosen),
        facts=_facts(chosen),
        label="two ways to read this",
    )


def _exact(row: RowTally, chosen: Chosen) -> str:
    """The stitches below on which both readings of "every 6th st" would come to the same, those next to what is there;
    empty for other phrases, and where no groups can be told."""
    if chosen.choice.kind != "every nth":
        return ""
    fits: list[int] = []
    for below, result in zip(row.below, row.results, strict=True):
        groups = [one for one in result.segments if isinstance(one.node, Times) and one.node.every] if result else []
        uses = groups[0].each_uses if groups else 0
        if below is not None and uses > 1 and below.total % uses:
            whole = below.total // uses
            fits += [whole * uses, (whole + 1) * uses]
            break
    return f"; {fits[0]} or {fits[1]} sts in the row below would leave no rest" if fits else ""


def _in_order(chosen: Chosen) -> list[str]:
    """The reading taken, then the others."""
    return [chosen.reading, *(reading for reading in chosen.choice.readings if reading != chosen.reading)]


def _comes_to(chosen: Chosen, reading: str) -> str:
    """What a reading leads to: a count, or a depth."""
    if not chosen.choice.kind.startswith("depth"):
        return f"makes {_makes(chosen, reading)}"
    deep = next((count for count in chosen.counts.get(reading, ()) if count is not None), 1)
    return f"goes {say_count(deep, 'row')} down from this one"


def _makes(chosen: Chosen, reading: str) -> str:
    """What a reading comes to, one number a size that has the row."""
    counts = chosen.counts.get(reading, ())
    told = []
    for count in counts:
        if count is not None:
            told.append(str(count) if count >= 0 else f"{-count - 1} with stitches lacking")
    if not told:
        return "a row that does not come out"
    if len(set(told)) == 1:
        number = counts[0] if counts and counts[0] is not None and counts[0] >= 0 else None
        return say_count(number, "st") if number is not None else told[0]
    return f"{told[0]} ({', '.join(told[1:])}) sts"


def _facts(chosen: Chosen) -> dict[str, str | tuple[int | str | None, ...]]:
    facts: dict[str, str | tuple[int | str | None, ...]] = {
        "kind": chosen.choice.kind,
        "reading": chosen.reading,
        "evidence": chosen.evidence,
    }
    for reading, counts in chosen.counts.items():
        facts[reading] = tuple(count if count is None or count >= 0 else None for count in counts)
    return facts


def _sizes(row: RowTally, sizes: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(name for name, label in zip(sizes, row.labels, strict=True) if label is not None)
