"""Bodies: published tables of measurements with their sources, tables of one's own, and the measures of one person.

Tables do not agree with one another. Nothing here chooses between them: whoever asks is given every value with the
name of its table, its source and how well it is known.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from functools import cache
from importlib.resources import files

import msgspec

from roundhand.measures import Length, length_unit, read_number, say_number

# What a table calls the way around a part of the body; asked for as "head", it is found under any of these.
_AROUND = re.compile(r"\s*(?:circumference|girth|\(to fit\)|without thumb)\s*$")
_BRACKETED = re.compile(r"\([^)]*\)")
_WORDS = re.compile(r"[a-z]+|\d+(?:\.\d+)?")
# Size names that say the same. Only spellings are made alike here, never two sizes that a table might tell apart.
_ALIKE: Mapping[str, str] = {
    "women": "woman",
    "womens": "woman",
    "men": "man",
    "mens": "man",
    "children": "child",
    "toddlers": "toddler",
    "babies": "baby",
    "teens": "teen",
    "premie": "preemie",
    "small": "s",
    "medium": "m",
    "large": "l",
    "months": "m",
    "month": "m",
    "years": "y",
    "year": "y",
    "mo": "m",
    "mos": "m",
    "yrs": "y",
    "yr": "y",
}


class BodyMeasure(msgspec.Struct, frozen=True):
    """A measurement of a body, or of a finished item, as one table gives it: from `least` to `most`, exactly.

    `basis` says what was measured, `evidence` is `found`, `memory`, `common practice` or `ours`.
    """

    table: str
    group: str
    size: str
    measure: str
    least: Length
    most: Length
    basis: str = "body"
    note: str = ""
    source: str = ""
    evidence: str = "ours"

    @property
    def middle(self) -> Length:
        """Half way between the least and the most."""
        return Length((self.least.mm + self.most.mm) / 2, self.least.unit)

    def said(self) -> str:
        """The measurement as a table prints it.

        >>> [one.said() for one in published("head", "Toddler")][:2]
        ['16 in (Craft Yarn Council, older booklet; memory)', '18-20 in (designer chart; found)']
        """
        low, high = self.least.to(self.least.unit), self.most.to(self.least.unit)
        value = say_number(low) if low == high else f"{say_number(low)}-{say_number(high)}"
        return f"{value} {self.least.unit} ({self.table}; {self.evidence})"


@cache
def body_tables() -> tuple[BodyMeasure, ...]:
    """All packaged measurements, in the order of their files; read once.

    >>> len(body_tables()) > 400, {one.evidence for one in body_tables()} == {"found", "memory"}
    (True, True)
    """
    found: list[BodyMeasure] = []
    folder = files("roundhand.sizing") / "data" / "bodies"
    for name in ("head", "hand", "foot", "garment"):
        measures, wrong = read_bodies((folder / f"{name}.csv").read_text(encoding="utf-8"))
        if wrong:
            raise ValueError(f"bodies/{name}.csv: {wrong[0]}")
        found += measures
    return tuple(found)


def published(measure: str, size: str = "", own: Sequence[BodyMeasure] = ()) -> list[BodyMeasure]:
    """What is known of a measure, in one size or in all: one's own table first, then the packaged ones.

    A measure is asked for by its name, or by the part of the body alone ("head" for the way around it); finished items
    are given only where asked for by their own names. A size is found by its name, by the group and the name ("Woman
    M"), and, where it gives a group alone ("Woman"), in every size of that group. Several tables give several answers.

    >>> {one.table for one in published("bust", "Woman M")} >= {"Craft Yarn Council, woman"}
    True
    >>> published("bust", "Woman M")[0].least.to("in"), published("head", "Hound")
    (Fraction(36, 1), [])
    """
    asked = measure.lower().strip()
    words = _alike(size)
    found = []
    for one in (*own, *body_tables()):
        if not _is_measure(one, asked):
            continue
        if not words or _is_size(one, words):
            found.append(one)
    return found


def measures_known(own: Sequence[BodyMeasure] = ()) -> tuple[str, ...]:
    """The short names of all measures of bodies, in the order of the tables.

    >>> "head" in measures_known(), "upper arm" in measures_known(), "cuff top to mitten tip" in measures_known()
    (True, True, False)
    """
    return tuple(dict.fromkeys(_short(one.measure) for one in (*own, *body_tables()) if _is_body(one)))


class Conflict(msgspec.Struct, frozen=True):
    """Two tables that do not agree on a measure of one size: their ranges do not even touch."""

    size: str
    one: BodyMeasure
    other: BodyMeasure

    def said(self) -> str:
        """Both values with the names of their tables."""
        return f"{self.size}: {self.one.said()} against {self.other.said()}"


def conflicts(found: Iterable[BodyMeasure], size: str) -> list[Conflict]:
    """The pairs of tables among these measures whose ranges do not touch, each pair once.

    >>> [one.said() for one in conflicts(published("head", "Woman"), "Woman")][0]
    'Woman: 20 in (Craft Yarn Council, older booklet; memory) against 21-23 1/2 in (magazine chart; found)'
    """
    list_of = list(found)
    pairs = []
    for at, one in enumerate(list_of):
        for other in list_of[at + 1 :]:
            apart = one.most.mm < other.least.mm or other.most.mm < one.least.mm
            if apart and one.table != other.table and one.measure == other.measure and one.group == other.group:
                pairs.append(Conflict(size, one, other))
    return pairs


def between_sizes(ranges: Sequence[tuple[Length, Length]]) -> list[tuple[Length, Length]]:
    """The bodies that fall between sizes: the gaps between one size's range and the next's.

    >>> from fractions import Fraction
    >>> inch = lambda low, high: (Length.of(Fraction(low), "in"), Length.of(Fraction(high), "in"))
    >>> [(str(low.to("in")), str(high.to("in"))) for low, high in between_sizes([inch(28, 30), inch(32, 34)])]
    [('30', '32')]
    """
    ordered = sorted(ranges, key=lambda one: (one[0].mm, one[1].mm))
    gaps = []
    reach = ordered[0][1] if ordered else Length(Fraction(0))
    for low, high in ordered[1:]:
        if low.mm > reach.mm:
            gaps.append((reach, low))
        reach = max(reach, high, key=lambda one: one.mm)
    return gaps


def read_bodies(text: str) -> tuple[list[BodyMeasure], list[str]]:
    """A table of bodies from CSV, with a sentence for every line that makes no sense; such lines are left out.

    Columns: size, measure, and either least and most or value; unit (else `cm`); table, group, basis, note, source and
    evidence may be missing. Decimal commas are read where cells stand between semicolons.

    >>> own, wrong = read_bodies("size;measure;value;unit\\nMy niece;head;50,5;cm\\nMy dog;head;big;cm")
    >>> own[0].least.mm, own[0].table, wrong
    (Fraction(505, 1), 'own table', ['line 3: “big” is no length above nothing'])
    """
    body = "\n".join(text.removeprefix("\ufeff").splitlines())
    semicolons = ";" in body.partition("\n")[0]
    found: list[BodyMeasure] = []
    wrong: list[str] = []
    try:
        rows = list(csv.DictReader(io.StringIO(body), delimiter=";" if semicolons else ","))
    except csv.Error as problem:
        return [], [f"it is no table ({problem})"]
    for number, row in enumerate(rows, start=2):
        cells = {str(key).strip().lower(): value.strip() for key, value in row.items() if isinstance(value, str)}
        if not any(cells.values()):
            continue
        size, measure = cells.get("size", ""), cells.get("measure", "").lower()
        low = cells.get("least") or cells.get("value") or cells.get("most", "")
        high = cells.get("most") or cells.get("value") or low
        unit = length_unit(cells.get("unit") or "cm")
        if not size or not measure or not low:
            wrong.append(f"line {number}: size, measure and a value are needed")
            continue
        if unit is None:
            wrong.append(f"line {number}: “{cells['unit']}” is no unit of length")
            continue
        values = [_value(cell.replace(",", ".") if semicolons else cell) for cell in (low, high)]
        bad = next((cell for cell, value in zip((low, high), values, strict=True) if value is None), None)
        if bad is not None or values[0] is None or values[1] is None:
            wrong.append(f"line {number}: “{bad}” is no length above nothing")
            continue
        least, most = sorted(values)  # type: ignore[type-var]
        found.append(
            BodyMeasure(
                cells.get("table") or "own table",
                cells.get("group", ""),
                size,
                measure,
                Length.of(least or Fraction(0), unit),
                Length.of(most or Fraction(0), unit),
                cells.get("basis") or "body",
                cells.get("note", ""),
                cells.get("source", ""),
                cells.get("evidence") or "ours",
            )
        )
    return found, wrong


def person(name: str, measures: Mapping[str, Length]) -> tuple[BodyMeasure, ...]:
    """The measures of one person as a table of their own.

    >>> ada = person("Ada", {"head": Length.of(Fraction(58), "cm")})
    >>> [one.said() for one in published("head", "Ada", own=ada)]
    ['58 cm (measured; ours)']
    """
    return tuple(BodyMeasure("measured", "", name, what.lower(), size, size) for what, size in measures.items())


def _value(cell: str) -> Fraction | None:
    found = read_number(cell)
    return found[0] if found is not None and found[1] == len(cell) and found[0] > 0 else None


def _short(measure: str) -> str:
    before = measure
    while (after := _AROUND.sub("", before)) != before:
        before = after
    return before


def _is_body(one: BodyMeasure) -> bool:
    return not one.basis.startswith("finished")


def _is_measure(one: BodyMeasure, asked: str) -> bool:
    return one.measure == asked or (_is_body(one) and _short(one.measure) == asked)


def _alike(name: str) -> tuple[str, ...]:
    """The words of a size's name, spelled one way."""
    words = _WORDS.findall(name.lower().replace("'", ""))
    return tuple(_ALIKE.get(word, word) for word in words)


def _is_size(one: BodyMeasure, asked: tuple[str, ...]) -> bool:
    size, group = _alike(one.size), _alike(one.group)
    if asked == size or asked == _alike(_BRACKETED.sub("", one.size)):
        return True
    if not group:
        return False
    return asked in ((*group, *size), (*size, *group), group)
