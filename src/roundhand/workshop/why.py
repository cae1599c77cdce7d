"""The reasons behind a row: what lies below it, what each phrase of it uses and makes, and how its words were read."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Literal

import msgspec

from roundhand.findings import Span
from roundhand.notation.tree import Chain, Node, RowLine, Work
from roundhand.tally import Chosen, PieceTally, RowTally, Worked, totals
from roundhand.workshop.colourwork import ColourChange, row_changes
from roundhand.workshop.reading import Reading
from roundhand.workshop.use import UseError, spoken

_ASKED = re.compile(
    r"\s*(?P<kind>rnds?|rounds?|rows?|r)?\.?\s*(?P<number>\d+)(?:\s+(?:of|in)\s+(?!line\b)(?P<part>.+?))?"
    r"(?:\s*,?\s*(?:(?:in|at|on)\s+)?line\s+(?P<line>\d+))?\s*:?\s*",
    re.IGNORECASE,
)
_MOST_CHOICES = 6


class Below(msgspec.Struct, frozen=True):
    """What a row is worked into: `what` it is, the `label` of a row, how many stitches, chains or row ends it offers,
    and its chain spaces. `by` says whether a row is taken as `worked` or as `stated`."""

    what: Literal["row", "chain", "ring", "row ends", "around", "nothing"]
    label: str = ""
    count: int = 0
    spaces: int = 0
    by: Literal["worked", "stated"] = "worked"


class Phrase(msgspec.Struct, frozen=True):
    """What a phrase uses of the row below and makes, all in all and in each of its `times`; `used` and `made` are
    the running totals behind it. `words` are those of the page, empty for a chain made in the row below."""

    words: str
    times: int
    each_uses: int
    each_makes: int
    uses: int
    makes: int
    used: int
    made: int


class ChainSaid(msgspec.Struct, frozen=True):
    """The chain at the start, where the text or custom settles whether it counts; `line` is where the text says so."""

    words: str
    counts: bool
    line: int | None


class Read(msgspec.Struct, frozen=True):
    """A phrase that can be read in more than one way: the way taken, the evidence, and what each way would make
    (nothing where it asks for more than there is). `words` is empty for a chain made before the turn."""

    kind: str
    words: str
    reading: str
    evidence: str
    makes: Mapping[str, int | None]


class Case(msgspec.Struct, frozen=True):
    """A row in the sizes where it is worked alike. `worked` is nothing where it could not be worked.

    `changes` are the changes of colour that fall in it. `left` of the places below are not used, `lacking` are asked
    for beyond what there is, and `over` are left by a repeat whose group needs `group`. `stands_on` is what the row
    after it, `next_row`, is worked into. `open` is true where the words leave the
    number of stitches to whoever works the row.
    """

    sizes: tuple[str, ...]
    label: str
    below: Below
    chain: ChainSaid | None
    phrases: tuple[Phrase, ...]
    worked: int | None
    stated: int | None
    left: int
    lacking: int
    over: int
    group: int
    stitches: tuple[tuple[str, str, int], ...]
    readings: tuple[Read, ...]
    next_row: str
    stands_on: Literal["worked", "stated"]
    changes: tuple[ColourChange, ...] = ()
    open: bool = False


class Why(msgspec.Struct, frozen=True, kw_only=True):
    """The reasons behind one row, case by case. `labels` are those of its `sizes`. `text` is the row as the page has
    it, from `line` on; a `copied` row is worked by the words of an earlier one. `language` says in which terms its
    stitches are to be named."""

    schema: Literal["roundhand.why/1"] = "roundhand.why/1"
    sizes: tuple[str, ...]
    labels: tuple[str, ...]
    kind: Literal["row", "round"]
    part: str
    line: int
    text: str
    copied: bool
    language: str
    cases: tuple[Case, ...]


def why(reading: Reading, row: str, size: int | None = None) -> Why:
    """The reasons behind a row asked for by its label, in all its sizes or in one.

    A label may be given with its section or line: `Rnd 2 of Body`, `Rnd 5, line 40`. Raises `UseError` where there is
    no such row, and with the choices where the label means more than one.

    >>> from roundhand.workshop.reading import understand
    >>> reading = understand("Cap\\n\\nRnd 1: 6 sc in a magic ring. (6)\\nRnd 2: inc in each st around. (12)")
    >>> case = why(reading, "Rnd 2").cases[0]
    >>> case.below.label, case.below.count, case.phrases[0].words, case.worked
    ('Rnd 1', 6, 'inc in each st around', 12)
    """
    piece, at = _find(reading, row, size)
    found = piece.rows[at]
    sizes = [one for one, label in enumerate(found.labels) if label is not None and size in (None, one)]
    grouped: dict[bytes, tuple[Case, list[str]]] = {}
    for one in sizes:
        case = _case(reading, piece, at, one)
        # Cases hold a mapping and so are not hashable; their JSON tells equal ones just as well.
        grouped.setdefault(msgspec.json.encode(case), (case, []))[1].append(reading.sizes[one])
    cases = tuple(msgspec.structs.replace(case, sizes=tuple(names)) for case, names in grouped.values())
    line, _ = reading.source.place(found.line.span.start)
    return Why(
        sizes=tuple(reading.sizes[one] for one in sizes),
        labels=tuple(found.label_in(one) for one in sizes),
        kind="round" if found.kind == "round" else "row",
        part=found.part,
        line=line,
        text=_one_line(found.line.span.of(reading.source.text)),
        copied=found.copied,
        language=reading.pattern.language,
        cases=cases,
    )


# Which row is meant.


def _find(reading: Reading, asked: str, size: int | None) -> tuple[PieceTally, int]:
    wanted = _ASKED.fullmatch(asked)
    if wanted is None:
        raise UseError(f"“{spoken(asked)}” names no row; ask for one by its label, such as “Rnd 6” or “Row 2 of Band”.")
    number = int(wanted["number"]) if len(wanted["number"]) < 9 else -1
    rows = [(piece, at, row) for piece in reading.tally.pieces for at, row in enumerate(piece.rows)]
    rows = [entry for entry in rows if _sizes_with(entry[2], number, size)]
    kind = (wanted["kind"] or "").lower()
    if kind.startswith(("rnd", "round", "row")):
        rows = [entry for entry in rows if entry[2].kind == ("row" if kind.startswith("row") else "round")]
    if wanted["part"]:
        rows = _of_part(rows, wanted["part"])
    if wanted["line"]:
        rows = [entry for entry in rows if _line_of(reading, entry[2]) == int(wanted["line"][:9])]
    if not rows:
        raise UseError(_absent(reading, asked, size))
    if len(rows) > 1:
        raise UseError(_choices(reading, asked, [row for _, _, row in rows], number, size))
    return rows[0][0], rows[0][1]


def _sizes_with(row: RowTally, number: int, size: int | None) -> list[int]:
    return [one for one, label in enumerate(row.labels) if label == number and size in (None, one)]


def _of_part(rows: list[tuple[PieceTally, int, RowTally]], asked: str) -> list[tuple[PieceTally, int, RowTally]]:
    """The rows of a section by its name or the beginning of it, or of a piece by its name."""
    lower = asked.strip(" .\"'“”").lower()
    exact = [entry for entry in rows if entry[2].part.lower() == lower]
    begun = [entry for entry in rows if entry[2].part.lower().startswith(lower)]
    return exact or begun or [entry for entry in rows if entry[0].name.lower().startswith(lower)]


def _absent(reading: Reading, asked: str, size: int | None) -> str:
    sizes = range(len(reading.sizes)) if size is None else (size,)
    said = []
    for kind, word in (("row", "Row"), ("round", "Rnd")):
        numbers = [
            row.labels[one] for row in reading.tally.rows() for one in sizes if row.kind == kind and row.labels[one]
        ]
        known = [number for number in numbers if number is not None]
        if known:
            said.append(f"{word} {min(known)} to {word} {max(known)}")
    where = "" if size is None else f" in {spoken(reading.sizes[size])}"
    there = f"there are {' and '.join(said)}" if said else "it has no rows"
    return f"There is no “{spoken(asked).strip()}”{where} in this pattern; {there}."


def _choices(reading: Reading, asked: str, rows: list[RowTally], number: int, size: int | None) -> str:
    named = []
    for row in rows[:_MOST_CHOICES]:
        own = _sizes_with(row, number, size)
        sizes = "" if len(own) == len(reading.sizes) else f" for {_and([reading.sizes[one] for one in own])}"
        part = f" of {row.part}" if row.part else ""
        named.append(spoken(f"{row.label_in(own[0])}{part}{sizes} (line {_line_of(reading, row)})"))
    if len(rows) > _MOST_CHOICES:
        named.append(f"{len(rows) - _MOST_CHOICES} more")
    ways = []
    if len({row.part for row in rows}) > 1:
        ways.append(spoken(f"section (“{rows[0].label_in(_sizes_with(rows[0], number, size)[0])} of {rows[0].part}”)"))
    taken = [one for row in rows for one in _sizes_with(row, number, size)]
    if size is None and any(taken.count(one) == 1 for one in taken):
        ways.append("size")
    if len({_line_of(reading, row) for row in rows}) > 1:
        ways.append(f"line (“{spoken(asked).strip()}, line {_line_of(reading, rows[0])}”)")
    return f"“{spoken(asked).strip()}” can mean {len(rows)} rows: {'; '.join(named)}; say which by its {_or(ways)}."


def _and(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _or(words: list[str]) -> str:
    return "label" if not words else words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"


def _line_of(reading: Reading, row: RowTally) -> int:
    return reading.source.place(row.line.span.start)[0]


# What it is made of.


def _case(reading: Reading, piece: PieceTally, at: int, size: int) -> Case:
    row = piece.rows[at]
    result = row.results[size]
    nodes = row.nodes[size] if size < len(row.nodes) else None
    following = next((other.label_in(size) for other in piece.rows[at + 1 :] if other.labels[size] is not None), "")
    over = result.left_over[0] if result is not None and result.left_over else None
    made = totals(result.made) if result is not None else {}
    return Case(
        (),
        row.label_in(size),
        _below(piece, at, size),
        _chain(reading, row, nodes or (), result),
        tuple(_phrases(reading, nodes or (), result)) if result is not None else (),
        result.count if result is not None else None,
        row.stated[size],
        result.left if result is not None else 0,
        result.lacking if result is not None else 0,
        over.over if over is not None else 0,
        over.group if over is not None else 0,
        tuple((stitch, colour, count) for (stitch, colour), count in made.items()),
        tuple(_read(reading, chosen, nodes or (), size) for chosen in row.chosen),
        following,
        "stated" if row.stands_on[size] == "stated" else "worked",
        tuple(msgspec.structs.replace(one, label="", part="") for one in row_changes(reading, row, size)),
        row.is_open(size),
    )


def _below(piece: PieceTally, at: int, size: int) -> Below:
    offer = piece.rows[at].below[size]
    if offer is None or offer.kind == "none":
        return Below("nothing")
    if offer.kind == "ring":
        return Below("ring", count=offer.total)
    if offer.kind == "chain":
        return Below("chain", count=offer.total)
    if offer.kind == "ends":
        return Below("row ends", count=offer.total)
    if offer.kind == "around":
        return Below("around", count=offer.total)
    under = next((row for row in reversed(piece.rows[:at]) if row.labels[size] is not None), None)
    by: Literal["worked", "stated"] = "stated" if under is not None and under.stands_on[size] == "stated" else "worked"
    return Below("row", under.label_in(size) if under else "", offer.total, offer.layout.count(b"o"), by)


def _phrases(reading: Reading, nodes: tuple[Node, ...], result: Worked) -> Iterator[Phrase]:
    used = made = 0
    # A turning chain that counts stands over the first stitch; it is no phrase of its own in the row's account.
    if result.chain_counted and not _from_hook(nodes):
        used = max(0, result.used - sum(segment.uses for segment in result.segments))
        made = result.chain_counted
        first = _leading_chain(nodes)
        yield Phrase(_words(reading, first.span) if first is not None else "", 1, used, made, used, made, used, made)
    for segment in result.segments:
        used += segment.uses
        made += segment.makes
        yield Phrase(
            _words(reading, segment.span),
            segment.times,
            segment.each_uses,
            segment.each_makes,
            segment.uses,
            segment.makes,
            used,
            made,
        )


def _leading_chain(nodes: Iterable[Node]) -> Chain | None:
    """The chain that a row begins with, before its first stitch."""
    for node in nodes:
        if isinstance(node, Chain):
            return node
        if isinstance(node, Work):
            return None
    return None


def _from_hook(nodes: tuple[Node, ...]) -> bool:
    """Whether a row is worked back along a chain; its first stitch then stands for the chains it leaves."""
    return any(isinstance(node, Work) and node.into.kind == "from_hook" for node in nodes)


def _chain(reading: Reading, row: RowTally, nodes: tuple[Node, ...], result: Worked | None) -> ChainSaid | None:
    """What settles whether the chain at the start counts; None where there is none, or where it is a way of reading."""
    chain = _leading_chain(nodes)
    if chain is None or result is None or any(chosen.choice.span == chain.span for chosen in row.chosen):
        return None
    first = next((node for node in nodes if isinstance(node, Work)), None)
    if _from_hook(nodes) or (first is not None and first.into.kind == "made"):
        # The chain is worked back along, or is part of a block that stands on nothing else.
        return None
    said = _said_of(reading, chain)
    line = reading.source.place(said.start)[0] if said is not None else None
    return ChainSaid(_words(reading, chain.span), bool(result.chain_counted), line)


def _said_of(reading: Reading, chain: Chain) -> Span | None:
    """Where the text says whether a chain of this length counts: here, in the notes, or in a row for all after."""
    if chain.counts is not None:
        return chain.counts_span or chain.span
    length = chain.amount.values[0]
    notes = [note for note in reading.pattern.count_notes if note.chains in (0, length)]
    # A note on this very length says more than one on all of them.
    notes.sort(key=lambda note: note.chains == 0)
    if notes:
        return notes[0].span
    for part in reading.pattern.parts:
        for line in part.lines:
            for node in line.nodes if isinstance(line, RowLine) else ():
                if isinstance(node, Chain) and node.throughout and node.amount.values[0] == length:
                    return node.counts_span or node.span
    return None


def _read(reading: Reading, chosen: Chosen, nodes: tuple[Node, ...], size: int) -> Read:
    makes: dict[str, int | None] = {}
    for name in chosen.choice.readings:
        counts = chosen.counts.get(name, ())
        count = counts[size] if size < len(counts) else None
        # The tally keeps a way that asks for more stitches than there are as a number below zero.
        makes[name] = count if count is not None and count >= 0 else None
    # A chain made before the turn stands in no words of the row that it opens.
    before = chosen.choice.kind == "turning chain" and _leading_chain(nodes) is None
    words = "" if before else _words(reading, chosen.choice.span)
    return Read(chosen.choice.kind, words, chosen.reading, chosen.evidence, makes)


def _words(reading: Reading, span: Span) -> str:
    return _one_line(span.of(reading.source.text))


def _one_line(words: str) -> str:
    return " ".join(words.split())
