"""What was understood of a pattern, in one sentence: sizes, rows, how many of the written counts agree."""

from __future__ import annotations

import msgspec

from roundhand.measures import say_count
from roundhand.tally import RowTally
from roundhand.terms import older
from roundhand.workshop.reading import Reading

_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


class Understood(msgspec.Struct, frozen=True):
    """What was understood. `rows` and `rounds` hold a number for every size; `stated` counts are written in the
    pattern, `agree` of them are what is worked, and `look_at` names the first row and size where they differ. `alone`
    is true where one size of several was asked for. `terms` are those of an older book, empty for those of today, and
    `shown` the words that show them, none where the page says it."""

    title: str
    sizes: tuple[str, ...]
    rows: tuple[int, ...]
    rounds: tuple[int, ...]
    stated: int
    agree: int
    look_at: tuple[str, str] | None
    alone: bool = False
    terms: str = ""
    shown: tuple[str, ...] = ()

    def sentence(self) -> str:
        """The sentence that is said first, before any query.

        >>> Understood("Cap", ("S", "M"), (0, 0), (20, 27), 47, 46, ("Rnd 9", "M")).sentence()
        'Two sizes, 20 to 27 rounds; 46 of 47 counts agree; look at Rnd 9, M.'
        """
        sizes = self.sizes[0] if self.alone else _spelled(len(self.sizes), "size")
        passes = [words for words in (_span(self.rows, "row"), _span(self.rounds, "round")) if words]
        said = [", ".join([sizes, *(passes or ["no rows"])])]
        if not self.stated:
            said += ["no counts are written to compare with"] if passes else []
        elif self.agree == self.stated:
            said.append("the one count agrees" if self.stated == 1 else f"all {self.stated} counts agree")
        else:
            said.append(f"{self.agree} of {say_count(self.stated, 'count')} agree")
        if self.look_at is not None:
            row, size = self.look_at
            said.append(f"look at {row}, {size}" if len(self.sizes) > 1 else f"look at {row}")
        if self.terms:
            words = " and ".join(f"\u201c{word}\u201d" for word in self.shown[:3])
            shows = "show" if len(self.shown) > 1 else "shows"
            said.append(f"read in {self.terms} terms, as {words} {shows}" if words else f"read in {self.terms} terms")
        return "; ".join(said) + "."


def understood(reading: Reading, size: int | None = None) -> Understood:
    """What was understood of a pattern, or of one size of it.

    >>> from roundhand.workshop.reading import understand
    >>> text = "Cap\\n\\nRnd 1: 6 sc in a magic ring. (6)\\nRnd 2: inc in each st around. (13)"
    >>> understood(understand(text)).sentence()
    'One size, 2 rounds; 1 of 2 counts agree; look at Rnd 2.'
    """
    sizes = range(len(reading.sizes)) if size is None else (size,)
    rows = list(reading.tally.rows())
    stated = [(row, at) for row in rows for at in sizes if row.stated[at] is not None]
    differ = [(row, at) for row, at in stated if row.worked[at] != row.stated[at]]
    return Understood(
        reading.pattern.title,
        tuple(reading.sizes[at] for at in sizes),
        tuple(_number(rows, "row", at) for at in sizes),
        tuple(_number(rows, "round", at) for at in sizes),
        len(stated),
        len(stated) - len(differ),
        (differ[0][0].label_in(differ[0][1]), reading.sizes[differ[0][1]]) if differ else None,
        size is not None and len(reading.sizes) > 1,
        reading.pattern.language if reading.pattern.language in older() else "",
        reading.pattern.terms_shown,
    )


def _number(rows: list[RowTally], kind: str, size: int) -> int:
    return sum(row.kind == kind and row.labels[size] is not None for row in rows)


def _span(numbers: tuple[int, ...], word: str) -> str:
    """`20 to 27 rounds` where the sizes differ; nothing where no size has any."""
    if not any(numbers):
        return ""
    least, most = min(numbers), max(numbers)
    return say_count(most, word) if least == most else f"{least} to {say_count(most, word)}"


def _spelled(number: int, word: str) -> str:
    said = say_count(number, word)
    if number >= len(_WORDS):
        return said
    return said.replace(str(number), _WORDS[number], 1).capitalize()
