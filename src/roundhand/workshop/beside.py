"""What a designer keeps beside her pattern: yarn measured stitch by stitch, and swatches weighed.

`stitch_lengths.csv` has the columns kind, place, length and unit; `swatches.csv` has yarn, stitch, stitches, rows,
width, height, unit and grams. Both may be saved from a spreadsheet with commas or with semicolons. What queries were
let stand is told in `standing`.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping
from fractions import Fraction
from pathlib import Path

import msgspec

from roundhand.measures import Length, length_unit, read_number, say_count
from roundhand.notation.tree import Pattern, YarnLine
from roundhand.stitches import dictionary
from roundhand.terms import vocabulary
from roundhand.workshop.standing import beside_pattern
from roundhand.workshop.text import read_text
from roundhand.workshop.use import UseError, spoken
from roundhand.yarn import MeasuredLength, read_measured
from roundhand.yarn.swatches import SwatchWeight, swatch_of

LENGTHS, SWATCHES = "stitch_lengths.csv", "swatches.csv"

# What takes yarn and is no stitch of the dictionary: a resting yarn carried up to where it is used again.
_NO_STITCH = frozenset(("climb",))
# Metres in 100 g of worsted, the yarn that is reckoned with where the pattern gives no put-up.
_WORSTED = 200.0
# So many lines that make no sense are told one by one; a file with more of them is surely another kind of file.
_MOST_TOLD = 3


class Beside(msgspec.Struct, frozen=True):
    """The texts of the files, empty where there is none, and a sentence for one that could not be read. `stands` is the
    table of queries that were let stand."""

    lengths: str = ""
    swatches: str = ""
    said: tuple[str, ...] = ()
    stands: str = ""


class Kept(msgspec.Struct, frozen=True):
    """What the files come to for one pattern, with a sentence for every line that makes no sense."""

    lengths: tuple[MeasuredLength, ...] = ()
    swatches: tuple[SwatchWeight, ...] = ()
    said: tuple[str, ...] = ()


def beside(pattern: Path) -> Beside:
    """The files beside a pattern file; a file that cannot be read becomes a sentence."""
    texts, said = [], []
    for path in (pattern.parent / LENGTHS, pattern.parent / SWATCHES, beside_pattern(pattern)):
        text = ""
        try:
            if path.exists():
                text = read_text(path).text
        except UseError as slip:
            said.append(f"{slip} The answer does without it.")
        except OSError as problem:
            said.append(f"“{spoken(path)}” could not be read ({problem.strerror}); the answer does without it.")
        texts.append(text)
    return Beside(texts[0], texts[1], tuple(said), texts[2])


def kept(found: Beside, pattern: Pattern) -> Kept:
    """The measured stitches and weighed swatches that hold for a pattern.

    Stitches may be named by their ids, in the pattern's terms or by a name that the pattern defines. A swatch in a
    yarn that the pattern does not have belongs to another pattern and is passed over, and so is one in the yarn and
    stitch of the pattern's own swatch line, which wins.

    >>> from roundhand.notation import read
    >>> pattern, _ = read("Cap\\nTerms: US\\nRnd 1: 6 sc in a magic ring.")
    >>> found = kept(Beside("kind,place,length,unit\\nsc,,1.6,in\\nbouclette,,2,in"), pattern)
    >>> [(one.kind, float(one.length.mm)) for one in found.lengths]
    [('single', 40.64)]
    >>> found.said
    ('“stitch_lengths.csv”: “bouclette” is no stitch of this pattern or its terms, so that line was passed over.',)
    """
    lengths, wrong = _lengths(found.lengths, pattern)
    swatches, odd = _swatches(found.swatches, pattern)
    return Kept(tuple(lengths), tuple(swatches), (*found.said, *_told(LENGTHS, wrong), *_told(SWATCHES, odd)))


def _lengths(text: str, pattern: Pattern) -> tuple[list[MeasuredLength], list[str]]:
    try:
        measured, wrong = read_measured(_with_commas(text))
    except csv.Error as problem:
        return [], [f"it is no table ({problem})"]
    said = [f"in {one}" for one in wrong]
    found = []
    for one in measured:
        kind = one.kind if one.kind in _NO_STITCH else _stitch(one.kind.replace("_", " "), pattern)
        if kind:
            found.append(msgspec.structs.replace(one, kind=kind))
        else:
            said.append(f"“{spoken(one.kind)}” is no stitch of this pattern or its terms")
    return found, said


def _swatches(text: str, pattern: Pattern) -> tuple[list[SwatchWeight], list[str]]:
    found: list[SwatchWeight] = []
    wrong: list[str] = []
    own = swatch_of(pattern)
    own_yarn = next((fact.text.split(",")[0].strip() for fact in pattern.facts if fact.key.lower() == "swatch"), "")
    try:
        rows = list(csv.DictReader(io.StringIO(_with_commas(text))))
    except csv.Error as problem:
        return [], [f"it is no table ({problem})"]
    for number, row in enumerate(rows, start=2):
        cells = {str(key).strip().lower(): value.strip() for key, value in row.items() if isinstance(value, str)}
        label = cells.get("yarn", "")
        yarn = _yarn(label, pattern)
        if label and yarn is None:
            continue
        stitch = _stitch(cells.get("stitch", ""), pattern)
        numbers = [_number(cells, name) for name in ("stitches", "rows", "width", "height", "grams")]
        unit = length_unit(cells.get("unit") or "cm")
        counts = [one for one in numbers[:2] if one is not None and one.denominator == 1]
        if not stitch or unit is None or len(counts) < 2 or not all(numbers):
            wrong.append(f"in line {number}: a known stitch, stitches, rows, width, height, unit and grams are needed")
            continue
        if own is not None and own.stitch == stitch and own_yarn.lower() in (label.lower(), ""):
            continue
        _, _, width, height, grams = (one or Fraction(0) for one in numbers)
        found.append(
            SwatchWeight(
                stitch,
                int(counts[0]),
                int(counts[1]),
                float(Length.of(width, unit).mm),
                float(Length.of(height, unit).mm),
                float(grams),
                _metres_in_100_g(yarn),
            )
        )
    return found, wrong


def _yarn(label: str, pattern: Pattern) -> YarnLine | None:
    """The yarn of a label or colour; the only one there is where none is named."""
    for yarn in pattern.yarns:
        if label and label.lower() in (yarn.label.lower(), yarn.colour.lower()):
            return yarn
    return pattern.yarns[0] if not label and len(pattern.yarns) == 1 else None


def _metres_in_100_g(yarn: YarnLine | None) -> float:
    if yarn is None or not yarn.mass_g or yarn.length is None:
        return _WORSTED
    return float(yarn.length.to("m") * 100 / yarn.mass_g)


def _stitch(words: str, pattern: Pattern) -> str:
    """The id of a stitch by its id, by a name that the pattern defines, or by the words of its terms; else empty."""
    plain = words.strip().lower()
    if not plain:
        return ""
    if plain.replace(" ", "_") in dictionary():
        return plain.replace(" ", "_")
    for name, definition in pattern.definitions.items():
        if definition.stitch is not None and plain in (name.lower(), definition.name.lower(), definition.stitch.id):
            return definition.stitch.id
    said = plain.split()
    meaning = vocabulary(pattern.language).find(said, 0)
    whole = meaning is not None and meaning.kind == "stitch" and meaning.length == len(said)
    return meaning.value if whole and meaning is not None else ""


def _number(cells: Mapping[str, str], name: str) -> Fraction | None:
    """A number above nothing that fills its cell, or None."""
    text = cells.get(name, "")
    found = read_number(text)
    return found[0] if found is not None and found[1] == len(text) and found[0] > 0 else None


def _with_commas(text: str) -> str:
    """A table with one kind of line end, set with commas; between semicolons a comma is a decimal point."""
    lines = "\n".join(text.splitlines())
    head = lines.partition("\n")[0]
    if ";" not in head or "," in head:
        return lines
    out = io.StringIO()
    rows = csv.reader(io.StringIO(lines), delimiter=";")
    csv.writer(out, lineterminator="\n").writerows([cell.replace(",", ".") for cell in row] for row in rows)
    return out.getvalue()


def _told(name: str, wrong: list[str]) -> Iterator[str]:
    """A sentence for each of the first lines that make no sense, and one for the rest."""
    for said in wrong[:_MOST_TOLD]:
        yield f"“{name}”: {said}, so that line was passed over."
    if len(wrong) > _MOST_TOLD:
        yield f"“{name}”: {say_count(len(wrong) - _MOST_TOLD, 'more line was', 'more lines were')} passed over."
