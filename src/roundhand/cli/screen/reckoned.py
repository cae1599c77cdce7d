"""The yarn of a pattern on a page: per colour and size, and the breakdown of one size."""

from __future__ import annotations

from collections.abc import Sequence

from roundhand.cli.screen.figures import NONE, say, units
from roundhand.cli.screen.letters import wrapped
from roundhand.cli.screen.line import BLANK, Line, line
from roundhand.cli.screen.tables import Grid, Section, fitting
from roundhand.terms import vocabulary
from roundhand.workshop import Reading, breakdown, sureness
from roundhand.workshop.spelling import spelt
from roundhand.yarn import Entry, YarnEstimate, YarnNeed, to_buy

_MARGIN = (
    "“to buy” is what it takes and a tenth more, up to the next five; of three makers two come out within “between”."
)
# Below so many metres or yards a whole number says too little.
_FEW = 10
_TAIL, _CLIMB = "tail", "climb"


def yarn_tables(reading: Reading, found: YarnEstimate, size: int | None, cells: int | None) -> list[Grid]:
    """The tables of all colours, or of what one size takes of them."""
    sizes = range(len(reading.sizes)) if size is None else (size,)
    return list(fitting(lambda some: _grid(reading, found, some), sizes, cells)) if found.needs else []


def breakdown_tables(reading: Reading, found: YarnEstimate, size: int) -> list[Grid]:
    """What the yarn of one size goes into, colour by colour, as much as it comes to in this maker's hands."""
    long, other = _long_units(reading)
    short = units("in" if long == "yd" else "cm")[0]
    sections = []
    for label in _labels(found):
        need = found.of(label, reading.sizes[size])
        if need is None:
            continue
        rows = [_broken(reading, entry, short, long, other) for entry in breakdown(found, need)]
        whole = need.length_m * 1000
        rows.append(("in all", "", "", "", "", say(whole, long), say(whole, other), ""))
        sections.append(Section(_yarn_name(reading, label), tuple(rows)))
    head = ("", "", "piece", "number", f"each, {short}", long, other, "")
    return [Grid(head, frozenset((3, 4, 5, 6)), tuple(sections), "faint")] if sections else []


def yarn_remarks(reading: Reading, found: YarnEstimate, cells: int, ranges: bool = True) -> list[Line]:
    """What the numbers rest on, and how to be surer of them; `ranges` is true below a table that has ranges."""
    if not found.needs:
        return []
    sure = sureness(found)
    said = [_MARGIN] if ranges else []
    if sure.rests_on == "lengths":
        said.append(f"By your own lengths of single stitches; give or take {sure.percent} %.")
    elif sure.rests_on == "swatches":
        weighed = "one weighed swatch" if sure.swatches == 1 else f"{sure.swatches} weighed swatches"
        said.append(f"By {weighed}; give or take {sure.percent} %.")
    page: list[Line] = [BLANK, *_wrapped(said, cells)] if said else []
    lacking = [*_guesses(reading, found)]
    if sure.rests_on == "formulas":
        lacking.append(
            f"No swatch has been weighed, so this is good to about {sure.percent} % either way. One weighed swatch "
            f"brings that to about {sure.with_one} %; add yours to the materials, such as: "
            "Swatch: A, sc, 15 sts x 20 rows, 10 x 10 cm, 9 g"
        )
    lacking = [spelt(sentence, reading.pattern.language) for sentence in lacking]
    return [*page, *([BLANK, *_wrapped(lacking, cells, "warning")] if lacking else [])]


def _wrapped(sentences: Sequence[str], cells: int, tone: str = "faint") -> list[Line]:
    return [
        line(words, "warning" if tone == "warning" else "faint") for one in sentences for words in wrapped(one, cells)
    ]


def _guesses(reading: Reading, found: YarnEstimate) -> list[str]:
    said = [f"There is {guess}." for guess in found.guessed]
    without = [need.label for need in found.needs if need.mass_g is None]
    labels = [label for label in dict.fromkeys(without) if label]
    if labels:
        said.append(
            f"The pattern does not say how long a ball of {' and '.join(labels)} is, so grams and balls are missing, "
            "and 200 m to 100 g is reckoned with; write it as: worsted, 100 g = 210 m"
        )
    elif without and len(_labels(found)) == 1:
        said.append(
            "The pattern does not say how long a ball is, so grams and balls are missing, and 200 m to 100 g is "
            "reckoned with; write it as: Yarn A: worsted, 100 g = 210 m"
        )
    if "" in _labels(found) and (len(_labels(found)) > 1 or len(reading.pattern.yarns) > 1):
        said.append(
            "Some stitches are in a colour that the pattern does not name there; they are those in no colour named."
        )
    return said


def _grid(reading: Reading, found: YarnEstimate, sizes: Sequence[int]) -> Grid:
    names = ("",) if len(reading.sizes) == 1 else tuple(reading.sizes[size] for size in sizes)
    head = ("", "", *names, "")
    sections = []
    for label in _labels(found):
        needs = [found.of(label, reading.sizes[size]) for size in sizes]
        if any(needs):
            sections.append(Section(_yarn_name(reading, label), tuple(_rows(reading, needs))))
    return Grid(head, frozenset(range(2, len(head) - 1)), tuple(sections), "faint")


def _rows(reading: Reading, needs: Sequence[YarnNeed | None]) -> list[tuple[str, ...]]:
    own, other = _long_units(reading)

    def lengths(unit: str) -> list[str]:
        return [say(need.length_m * 1000, unit) if need is not None else NONE for need in needs]

    rows = [("takes", own, *lengths(own), ""), ("", other, *lengths(other), "")]
    rows.append(("between", own, *(_range(need, own) for need in needs), ""))
    rows.append(("", other, *(_range(need, other) for need in needs), ""))
    if any(need is not None and need.mass_g is not None for need in needs):
        rows.append(("weighs", "g", *(_or_none(need, "mass_g") for need in needs), ""))
    buy = [[str(to_buy(need.length_m, unit)) if need is not None else NONE for need in needs] for unit in (own, other)]
    rows += [("to buy", own, *buy[0], ""), ("", other, *buy[1], "")]
    if any(need is not None and need.balls is not None for need in needs):
        rows.append(("", "balls", *(_or_none(need, "balls") for need in needs), ""))
    return rows


def _or_none(need: YarnNeed | None, what: str) -> str:
    value = getattr(need, what) if need is not None else None
    if value is None:
        return NONE
    return f"{value:.2f}" if isinstance(value, float) else str(value)


def _range(need: YarnNeed | None, unit: str) -> str:
    if need is None:
        return NONE
    low, high = (float(say(one * 1000, unit)) for one in (need.low_m, need.high_m))
    decimals = 0 if high >= _FEW else 1
    return f"{low:.{decimals}f}-{high:.{decimals}f}"


def _long_units(reading: Reading) -> tuple[str, str]:
    """Yards or metres first, as the pattern gives the length of its yarn, else by the unit of its gauge."""
    own = next((yarn.length.unit for yarn in reading.pattern.yarns if yarn.length is not None), "")
    gauge = next((gauge.over.unit for gauge in reading.pattern.gauges if gauge.over is not None), "cm")
    return units(own or gauge, long=True)


def _labels(found: YarnEstimate) -> list[str]:
    return list(dict.fromkeys(need.label for need in found.needs))


def _yarn_name(reading: Reading, label: str) -> str:
    """`A, harbour grey`, with what of it is known."""
    if not label and len(reading.pattern.yarns) > 1:
        return spelt("no colour named", reading.pattern.language)
    colour = next((yarn.colour for yarn in reading.pattern.yarns if yarn.label == label), "")
    return ", ".join(words for words in (label, colour) if words) or "Yarn"


def _broken(reading: Reading, entry: Entry, short: str, long: str, other: str) -> tuple[str, ...]:
    kind = "" if entry.kind in (_TAIL, _CLIMB) else vocabulary(reading.pattern.language).short(entry.kind)
    piece = "" if entry.kind in (_TAIL, _CLIMB) else entry.piece
    each = say(entry.each_mm, short)
    return (entry.what, kind, piece, str(entry.count), each, say(entry.mm, long), say(entry.mm, other), "")
