"""The reasons behind a row in sentences, for a crocheter and in her words."""

from __future__ import annotations

import re
from itertools import pairwise

from roundhand.measures import say_count
from roundhand.terms import vocabulary
from roundhand.workshop.colourwork import ColourChange
from roundhand.workshop.why import Below, Case, ChainSaid, Phrase, Read, Why

_NUMBER = re.compile(r"\d+")
# So many stitches are named one by one.
_MOST_NAMED = 4
_READINGS = {
    ("repeat times", "more"): "that many more times after the first",
    ("repeat times", "in all"): "that many times in all",
    ("bracket times", "more"): "that many more times after the first",
    ("bracket times", "in all"): "that many times in all",
    ("before colon", "first phrase"): "with the number for the first phrase alone",
    ("before colon", "whole group"): "with the number for all that stands behind the colon",
    ("number of decreases", "so many"): "so many decreases",
    ("number of decreases", "one of so many"): "one decrease that joins so many stitches",
    ("repeat from", "first phrase"): "from the first phrase of the row on",
    ("repeat from", "second phrase"): "from the second phrase of the row on",
    ("repeat from", "third phrase"): "from the third phrase of the row on",
    ("repeat from", "fourth phrase"): "from the fourth phrase of the row on",
    ("repeat from", "fifth phrase"): "from the fifth phrase of the row on",
    ("repeat from", "sixth phrase"): "from the sixth phrase of the row on",
    ("repeat from", "seventh phrase"): "from the seventh phrase of the row on",
    ("repeat from", "eighth phrase"): "from the eighth phrase of the row on",
    ("turning chain", "counts"): "a stitch of the row",
    ("turning chain", "does not count"): "no stitch of the row",
    ("chain of one", "counts"): "a stitch of the row",
    ("chain of one", "does not count"): "no stitch of the row",
    ("skipped chain", "counts"): "with the skipped chains as a stitch",
    ("skipped chain", "does not count"): "with the skipped chains as none",
    ("each stitch", "stitches"): "into the stitches alone",
    ("each stitch", "with chains"): "into the stitches and every chain",
    ("left stitches", "own"): "to the end of the stitches in hand",
    ("left stitches", "with those left"): "on into the stitches left unworked before",
    ("slip stitches", "counted"): "the slip stitches are stitches of the row",
    ("slip stitches", "not counted"): "the slip stitches only lead on and are none",
    ("bare number", "one in each"): "one in each of so many stitches",
    ("bare number", "all in one"): "all in one stitch",
    ("around", "whole groups"): "whole groups only",
    ("around", "cut"): "with the last group cut short where the round ends",
    ("stated count", "stitches"): "stitches alone",
    ("stated count", "with chains"): "stitches and chains",
}
_EVIDENCE = {
    "places": "then the stitches of the row below come out",
    "later counts": "then more of the rows after it come out as written",
    "habit": "the rest of the pattern is read so, and nothing here speaks against it",
    "usage": "that is the usual meaning, and nothing in the pattern decides",
}


def heading(why: Why) -> str:
    """Which row it is, with its labels as a size list where they differ: `Rnd 6 (7, 9) of Crown, line 41`."""
    part = f" of {why.part}" if why.part else ""
    return f"{_together(why.labels)}{part}, line {why.line}"


def accounts(why: Why) -> list[tuple[tuple[str, ...], list[str]]]:
    """The whole account: the sizes it speaks of, and their sentences, numbers that differ given as size lists.

    Sizes that are told in the same words are told together; where one of them goes another way it is told by itself.

    >>> from roundhand.workshop.reading import understand
    >>> from roundhand.workshop.why import why as reasons
    >>> text = "Cap\\nSizes: S (M, L)\\nRnd 1: 6 (7, 8) sc in a magic ring. (6 (7, 9))"
    >>> for sizes, told in accounts(reasons(understand(text), "Rnd 1")):
    ...     print(sizes, told[-1])
    ('S', 'M') 6 (7) worked and 6 (7) written: they agree.
    ('L',) 8 worked, but 9 written.
    """
    alike: dict[tuple[str, ...], list[tuple[str, list[str]]]] = {}
    for case in why.cases:
        told = sentences(why, case)
        shape = tuple(_NUMBER.sub("#", sentence) for sentence in told)
        alike.setdefault(shape, []).extend((size, told) for size in case.sizes)
    return [
        (
            tuple(size for size, _ in members),
            [_together(versions) for versions in zip(*(told for _, told in members), strict=True)],
        )
        for members in alike.values()
    ]


def _together(versions: tuple[str, ...]) -> str:
    """One sentence of several that differ in their numbers alone: `Rnd 7 (8, 9) has 56 (64, 68) sts`."""
    numbers = zip(*(_NUMBER.findall(version) for version in versions), strict=True)
    lists = [
        same[0] if len(set(same)) == 1 else f"{same[0]} ({', '.join(same[1:])})" for same in (tuple(n) for n in numbers)
    ]
    given = iter(lists)
    return _NUMBER.sub(lambda _: next(given), versions[0])


def sentences(why: Why, case: Case) -> list[str]:
    """The account of a row in some of its sizes, a sentence a line; what a phrase comes to stands indented below it.

    >>> from roundhand.workshop.reading import understand
    >>> from roundhand.workshop.why import why as reasons
    >>> text = "Cap\\n\\nRnd 1: 6 sc in a magic ring. (6)\\nRnd 2: *sc in next st, inc; rep from * around. (9)"
    >>> told = reasons(understand(text), "Rnd 2")
    >>> for line in sentences(told, told.cases[0]):
    ...     print(line)
    Rnd 1 has 6 sts to work into.
    *sc in next st, inc; rep from * around
        3 times, each into 2 sts and making 3: 6 used, 9 made
    9 worked and 9 written: they agree.
    """
    said = [_below(case.below)]
    if why.copied:
        said.append(f"It is worked by the words of an earlier {why.kind}.")
    if case.chain is not None and case.chain.words:
        said.append(_chain(case.chain))
    for read in case.readings:
        said += _read(read, case)
    if case.worked is None:
        return [*said, "It could not be worked: a number is missing for this size, or the row it repeats is not there."]
    for phrase in case.phrases:
        said += [phrase.words or "the chain turned with at the end of the row before", f"    {_phrase(phrase, case)}"]
    said += _leftovers(case)
    if case.phrases and case.worked > case.phrases[-1].made:
        said.append(f"{case.worked - case.phrases[-1].made} ch are counted as well.")
    said.append(_outcome(case))
    stitches = _stitches(why, case)
    if stitches:
        said.append(stitches)
    said += [_change(change, case) for change in case.changes]
    if case.next_row:
        said.append(_next(case))
    return said


def _below(below: Below) -> str:
    if below.what == "nothing":
        return "Nothing lies below it."
    if below.what == "ring":
        return f"It is worked into a ring of {below.count} ch." if below.count else "It is worked into a ring."
    if below.what == "chain":
        return f"It is worked into a chain of {below.count}."
    if below.what == "row ends":
        return f"It is worked along {say_count(below.count, 'row end')}."
    if below.what == "around":
        return f"It goes all round the piece, which has room for {say_count(below.count, 'st')}."
    spaces = f" and {say_count(below.spaces, 'chain space')}" if below.spaces else ""
    written = ", as written," if below.by == "stated" else ""
    return f"{below.label or 'The row below'} has {say_count(below.count, 'st')}{spaces}{written} to work into."


def _chain(chain: ChainSaid) -> str:
    counts = "counts as a stitch" if chain.counts else "does not count as a stitch"
    if chain.line is None:
        return f"{_begun(chain.words)} {counts}, as is usual."
    return f"{_begun(chain.words)} {counts}; line {chain.line} says so."


def _phrase(phrase: Phrase, case: Case) -> str:
    unit = {"chain": "ch", "row ends": "row end"}.get(case.below.what, "st")
    if phrase.times > 1:
        into = f"into {_many(phrase.each_uses, unit)} and " if phrase.each_uses else ""
        said = f"{phrase.times} times, each {into}making {phrase.each_makes}: {phrase.uses} used, {phrase.makes} made"
    else:
        said = f"into {_many(phrase.uses, unit)}, " if phrase.uses else ""
        said += f"making {phrase.makes}"
    return said if len(case.phrases) == 1 else f"{said}; so far {phrase.made} of {case.worked}"


def _many(count: int, unit: str) -> str:
    return f"{count} ch" if unit == "ch" else say_count(count, unit)


def _leftovers(case: Case) -> list[str]:
    said = []
    if case.lacking:
        said.append(f"It asks for {say_count(case.lacking, 'st')} more than there are.")
    if case.over:
        group = f" of {case.group}" if case.group else ""
        said.append(f"The repeat does not come out: {case.over} left over, too few for another group{group}.")
    elif case.left:
        said.append(f"{say_count(case.left, 'st is', 'sts are')} left unworked.")
    return said


def _outcome(case: Case) -> str:
    if case.open:
        return f"{case.worked} lie flat by the usual rates; the words leave the number open, and no count is written."
    if case.stated is None:
        return f"{case.worked} worked; no count is written."
    if case.stated == case.worked:
        return f"{case.worked} worked and {case.stated} written: they agree."
    return f"{case.worked} worked, but {case.stated} written."


def _stitches(why: Why, case: Case) -> str:
    """The stitches by kind and colour, where there is more than one of either."""
    if len(case.stitches) < 2:
        return ""
    words = vocabulary(why.language)
    said = [
        f"{count} {'turning ch' if stitch == 'turning_chain' else words.short(stitch)}"
        + (f" in {colour}" if colour else "")
        for stitch, colour, count in case.stitches
    ]
    return f"Made: {', '.join(said)}."


def _change(change: ColourChange, case: Case) -> str:
    """Where the colour changes."""
    if not change.used:
        return f"It changes to {change.after}, in which nothing is worked."
    if change.how == "anew":
        return f"{change.after} is joined anew at its beginning."
    if change.how == "join":
        return f"The slip stitch that joins it is drawn in {change.after}."
    at = change.stitches
    steps = {later - earlier for earlier, later in pairwise(at)}
    if len(at) == 1:
        last = ", the last one," if at[0] == case.worked else ""
        return f"The last yarn over of st {at[0]}{last} is drawn in {change.after}."
    if len(at) > _MOST_NAMED and len(steps) == 1:
        said = f"sts {at[0]}, {at[1]} and so on, every {steps.pop()} sts, to st {at[-1]}"
    elif len(at) > 2 * _MOST_NAMED:
        said = f"{len(at)} sts from st {at[0]} to st {at[-1]}"
    else:
        said = f"sts {', '.join(str(one) for one in at[:-1])} and {at[-1]}"
    return f"The last yarn over of {said} is drawn in {change.after}."


def _next(case: Case) -> str:
    if case.stated is not None and case.stated != case.worked:
        count = case.stated if case.stands_on == "stated" else case.worked
        said = f"{case.next_row} is taken to stand on the {count}"
        return (
            f"{said} written, so that more of what follows comes out."
            if case.stands_on == "stated"
            else f"{said} worked."
        )
    return f"{case.next_row} stands on these {case.worked}."


def _read(read: Read, case: Case) -> list[str]:
    ways = [f"{_reading(read.kind, name)}, {_makes(count)}" for name, count in read.makes.items()]
    known = set(read.makes.values())
    if read.evidence == "counts" and case.stated is not None:
        evidence = f"{case.stated} is written"
    elif len(known) == 1 and None not in known:
        evidence = "either way the count is the same"
    else:
        evidence = _EVIDENCE.get(read.evidence, "the written counts then agree")
    words = f"“{read.words}”" if read.words else "The chain made before the turn"
    return [
        f"{words} can be read in {len(ways)} ways: {'; or '.join(ways)}.",
        f"    Taken: {_reading(read.kind, read.reading)}, since {evidence}.",
    ]


def _reading(kind: str, reading: str) -> str:
    return _READINGS.get((kind, reading), reading)


def _makes(count: int | None) -> str:
    return "for which there are too few stitches" if count is None else f"making {count}"


def _begun(words: str) -> str:
    return words[:1].upper() + words[1:]
