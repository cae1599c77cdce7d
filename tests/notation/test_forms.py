"""Every form of the trade that can be read, in tables that a crocheter can read: `forms/*.md`.

One function drives all of them. Each case is worked as written and with other numbers and another stitch in its place.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path

import pytest

from roundhand.measures import number_word, say_number
from roundhand.notation import read
from roundhand.notation.tree import Pattern
from roundhand.tally import RowTally, Run, Tally, Worked, count, flat
from roundhand.tally.sides import sides
from roundhand.terms import vocabulary

FORMS = Path(__file__).parent / "forms"
VARIANTS = 3
OTHER_STITCHES = {
    "sc": ("hdc", "dc"),
    "hdc": ("sc", "dc"),
    "dc": ("sc", "hdc"),
    "tr": ("htr", "dtr"),
    "htr": ("tr", "dtr"),
}
WORDS = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"]
_NUMBER = re.compile(r"(?P<name>\w+) (?P<value>\d+)(?: in (?P<low>\d+)\.\.(?P<high>\d+)| = (?P<formula>[^,]+))?$")


@dataclass
class Case:
    """One form: its wordings and what each must come to."""

    name: str
    numbers: dict[str, tuple[int, int, int, str]] = field(default_factory=dict)
    stitch: str = ""
    below: str = ""
    wordings: list[str] = field(default_factory=list)
    patterns: list[str] = field(default_factory=list)
    results: list[tuple[str, str]] = field(default_factory=list)


def cases() -> list[Case]:
    """All cases of all files."""
    return tables(FORMS)


def tables(folder: Path) -> list[Case]:
    """The cases of all files of a folder."""
    found = []
    for file in sorted(folder.glob("*.md")):
        if file.name == "README.md":
            continue
        group = file.stem
        case: Case | None = None
        fence: list[str] | None = None
        for line in file.read_text(encoding="utf-8").splitlines():
            if line.startswith("```"):
                if fence is None:
                    fence = []
                else:
                    assert case is not None
                    case.patterns.append("\n".join(fence))
                    fence = None
            elif fence is not None:
                fence.append(line)
            elif line.startswith("## "):
                case = Case(f"{group}: {line[3:]}")
                found.append(case)
            elif case is not None and line.startswith("- "):
                case.wordings.append(line[2:])
            elif case is not None and ": " in line:
                _put(case, *line.split(": ", 1))
    return found


def _put(case: Case, key: str, value: str) -> None:
    if key == "numbers":
        for part in re.split(r",\s*(?=\w+ \d)", value):
            number = _NUMBER.match(part.strip())
            assert number is not None, f"{case.name}: {part!r} names no number"
            low, high = int(number["low"] or 2), int(number["high"] or 12)
            case.numbers[number["name"]] = (int(number["value"]), low, high, number["formula"] or "")
    elif key == "stitch":
        case.stitch = value
    elif key == "below":
        case.below = value
    else:
        case.results.append((key, value))


# Exchanging numbers and stitches.


def _values(case: Case, chance: random.Random | None) -> dict[str, int]:
    """Values for the named numbers: as written, or drawn by chance."""
    values: dict[str, int] = {}
    for name, (value, low, high, formula) in case.numbers.items():
        if formula:
            values[name] = _worked_out(formula, values)
        else:
            values[name] = value if chance is None else chance.randint(low, high)
    if chance is None:
        for name, (value, *_) in case.numbers.items():
            assert values[name] == value, f"{case.name}: {name} is not {value}"
    return values


def _worked_out(formula: str, values: dict[str, int]) -> int:
    result = eval(formula, {"__builtins__": {}}, dict(values))
    assert isinstance(result, int)
    return result


def exchanged(text: str, case: Case, values: dict[str, int], stitch: str) -> str:
    """The text with its named numbers, and its stitch, exchanged."""
    by_value = {value: values[name] for name, (value, *_) in case.numbers.items()}

    def number(found: re.Match[str]) -> str:
        old = int(found["digits"])
        if old not in by_value:
            return found[0]
        return _ordinal(by_value[old]) if found["th"] else str(by_value[old])

    def word(found: re.Match[str]) -> str:
        old = number_word(found[0])
        if old is None or old not in by_value:
            return found[0]
        new = by_value[old]
        said = {1: "once", 2: "twice"}.get(new, f"{new} times") if found[0].lower() in ("once", "twice") else WORDS[new]
        return said.capitalize() if found[0][0].isupper() else said

    text = re.sub(r"(?<![\d.])(?P<digits>\d+)(?P<th>st|nd|rd|th)?(?!\d)", number, text)
    text = re.sub(r"\b(?:once|twice|" + "|".join(WORDS[1:]) + r")\b", word, text, flags=re.IGNORECASE)
    if case.stitch and stitch != case.stitch:
        old = case.stitch
        text = re.sub(rf"(?<![a-z]){old}(?=\d|s\b|\b)", stitch, text)
        text = re.sub(rf"(?<=\b[fb]p){old}\b", stitch, text)
        text = re.sub(rf"\b{old.capitalize()}(?=\d|\b)", stitch.capitalize(), text)
        text = re.sub(rf"\b{old}(?=blo|flo)", stitch, text)
    return text


def _ordinal(number: int) -> str:
    end = "th" if 10 <= number % 100 <= 20 else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{end}"


def _expected(value: str, case: Case, values: dict[str, int], stitch: str) -> list[str]:
    """What stands before the `=`, or what its formulas come to; sizes apart."""
    written, _, formulas = value.partition(" = ") if case.numbers else (value, "", "")
    said = [part.strip() for part in written.split("|")]
    if not formulas:
        return [exchanged(part, case, values, stitch) for part in said]
    worked = [part.strip() if part.strip() == "-" else str(_worked_out(part, values)) for part in formulas.split("|")]
    base = _values(case, None)
    first = [part.strip() if part.strip() == "-" else str(_worked_out(part, base)) for part in formulas.split("|")]
    assert first == said, f"{case.name}: {formulas} is {first}, not {said}"
    return worked


# What stands below.


def _page(case: Case, line: str, values: dict[str, int], stitch: str) -> str:
    below = case.below
    size, _, more = below.partition(",")
    number = int(_expected(re.sub(r"^\D+", "", size), case, values, stitch)[0]) if re.search(r"\d", size) else 0
    rounds = 1
    if more:
        rounds = int(_expected(more.replace("rounds", "").strip(), case, values, stitch)[0])
    own = stitch or "sc"
    labelled = re.match(r"(R[ow]*nd|Row|Round|Next)", line) is not None
    label = ""
    if below.startswith("chain"):
        head = f"Ch {number}.\n"
        label = "Row 1: "
    elif below.startswith("ring"):
        head = "Make a magic ring.\n"
        label = "Rnd 1: "
    elif below.startswith("ends"):
        head = "BAND\nCh 6.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
        head += f"Rows 2-{number}: Ch 1, sc in each st across, turn.\n" if number > 1 else ""
        head += "\nEDGE\n"
        label = "Rnd 1: "
    elif below == "nothing":
        head, label = "", ""
    else:
        head = f"Rnd 1: {number} {own} in a magic ring.\n"
        head += f"Rnds 2-{rounds}: {own.capitalize()} in each st around.\n" if rounds > 2 else ""
        head += f"Rnd 2: {own.capitalize()} in each st around.\n" if rounds == 2 else ""
        label = f"Rnd {rounds + 1}: "
    if any(key == "colours" for key, _ in case.results):
        head = f"Yarn A: slate\nYarn B: samphire\n\nCAP\n{head}"
    language = "Terms: UK\n" if own in ("htr", "tr") or "tr2tog" in line else ""
    return f"A Form\n{language}\n{head}{'' if labelled else label}{line}\n"


# What came of it.


def _runs(row: RowTally, size: int = 0) -> list[Run]:
    result = row.results[size]
    return list(flat(result.made)) if result is not None else []


def _worked(row: RowTally) -> Worked:
    result = row.results[0]
    assert result is not None, f"{row.label} could not be worked"
    return result


def _by_stitch(row: RowTally, language: str) -> str:
    made: dict[str, int] = {}
    for run in _runs(row):
        if run.counts:
            made[run.stitch] = made.get(run.stitch, 0) + run.count
    words = vocabulary(language)
    return ", ".join(sorted(f"{number} {words.short(stitch)}" for stitch, number in made.items()))


def _by_colour(row: RowTally) -> str:
    made: dict[str, int] = {}
    for run in _runs(row):
        if run.counts:
            made[run.colour] = made.get(run.colour, 0) + run.count
    return ", ".join(sorted(f"{colour} {number}" for colour, number in made.items()))


def _one_row(key: str, row: RowTally, language: str) -> str:
    result = _worked(row)
    stitches = [run for run in _runs(row) if run.counts]
    answers: dict[str, Callable[[], str]] = {
        "used": lambda: str(result.used),
        "made": lambda: str(result.count),
        "left": lambda: str(result.left),
        "lacking": lambda: str(result.lacking),
        "stitches": lambda: _by_stitch(row, language),
        "colours": lambda: _by_colour(row),
        "chains": lambda: str(sum(run.count for run in _runs(row) if run.stitch == "chain")),
        "offered spaces": lambda: str(result.offer.layout.count(b"o")),
        "stated": lambda: ", ".join(str(value) for value in row.stated),
        "loop": lambda: ", ".join(sorted({run.loop or "both" for run in stitches})),
        "depth": lambda: ", ".join(sorted({str(run.below) for run in stitches})),
        "repeats": lambda: str(result.repeats),
        "row ends": lambda: str(result.ends[0]) if result.ends else "none",
        "turned": lambda: "yes" if result.turned else "no",
    }
    return answers[key]()


def _fact(key: str, pattern: Pattern, tally: Tally) -> str:
    yarns = {f"yarn {yarn.label}": yarn for yarn in pattern.yarns}
    if key in yarns:
        return f"{yarns[key].colour}"
    if key.startswith("put-up "):
        yarn = yarns["yarn " + key.removeprefix("put-up ")]
        mass = say_number(yarn.mass_g) if yarn.mass_g is not None else "?"
        length = (
            f"{say_number(yarn.length.to(yarn.length.unit))} {yarn.length.unit}" if yarn.length is not None else "?"
        )
        return f"{mass} g = {length}"
    if key.startswith("fact "):
        fact = next(one for one in pattern.facts if one.key == key.removeprefix("fact "))
        return ", ".join("-" if value is None else say_number(value) for value in fact.numbers)
    answers: dict[str, Callable[[], str]] = {
        "title": lambda: pattern.title,
        "sizes": lambda: ", ".join(pattern.sizes),
        "language": lambda: pattern.language,
        "hook": lambda: f"{say_number(pattern.hook_mm)} mm" if pattern.hook_mm is not None else "none",
        "yarns": lambda: ", ".join(yarn.label for yarn in pattern.yarns),
        "parts": lambda: ", ".join(part.name for part in pattern.parts),
        "sides": lambda: ", ".join(sides(tally.pieces[-1], 0)),
        "pieces": lambda: ", ".join(piece.name for piece in tally.pieces),
        "worked in": lambda: "; ".join(
            ", ".join(dict.fromkeys(label for row in piece.rows for label in _worked(row).colours))
            for piece in tally.pieces
        ),
        "makes": lambda: ", ".join(f"{piece.name} {'/'.join(map(str, piece.make))}" for piece in tally.pieces),
        "gauges": lambda: "; ".join(
            f"{gauge.of or 'all'} {say_number(gauge.stitches or Fraction(0))} x {say_number(gauge.rows or Fraction(0))}"
            for gauge in pattern.gauges
        ),
        "defined": lambda: ", ".join(sorted({one.name for one in pattern.definitions.values()})),
        "seams": lambda: ", ".join(
            str(sum(run.count for run in flat(result.made) if run.stitch == "slip_stitch"))
            for piece in tally.pieces
            for step in piece.steps
            if step.step.act == "seam"
            for result in step.results[:1]
            if result is not None
        ),
        "events": lambda: ", ".join(
            " ".join(f"{event.act} {event.colour} {piece.rows[event.row].label_in(0)}".split())
            for piece in tally.pieces
            for event in piece.events[0]
            if event.act != "use"
        ),
    }
    return answers[key]()


def _row_line(row: RowTally) -> str:
    labels = row.labels
    if len(set(labels)) == 1:
        label = row.label
    else:
        label = row.label.split()[0] + " " + " | ".join("-" if one is None else str(one) for one in labels)
    worked = ["-" if value is None else str(value) for value in row.worked]
    if len(set(worked)) == 1:
        worked = worked[:1]
    return f"{label}: {' | '.join(worked)}"


def _rows_expected(value: str, case: Case, values: dict[str, int], stitch: str) -> list[str]:
    """`Rnd 2: 12 = n; Rnds 3-5: 24 = 2*n`, one line a row."""
    lines = []
    for part in value.split(";"):
        label, _, counted = part.strip().partition(": ")
        label = exchanged(label, case, values, stitch)
        counts = _expected(counted, case, values, stitch)
        spread = re.match(r"(Row|Rnd)s (\d+)-(\d+)$", label)
        labels = [f"{spread[1]} {at}" for at in range(int(spread[2]), int(spread[3]) + 1)] if spread else [label]
        if len(set(counts)) == 1:
            counts = counts[:1]
        lines += [f"{one}: {' | '.join(counts)}" for one in labels]
    return lines


# A case without a number and without a stitch has nothing to exchange and is tried as written.
ALL = [(case, variant) for case in cases() for variant in range(VARIANTS + 1 if case.numbers or case.stitch else 1)]


@pytest.mark.parametrize(("case", "variant"), ALL, ids=[f"{case.name} [{variant}]" for case, variant in ALL])
def test_form(case: Case, variant: int) -> None:
    """Each wording of a form comes to what its case says, with its own numbers and with others."""
    assert case.wordings or case.patterns, f"{case.name} has no wording"
    assert case.results, f"{case.name} has no result"
    chance = random.Random(f"{case.name} {variant}") if variant else None
    values = _values(case, chance)
    stitch = case.stitch
    if chance is not None and stitch:
        stitch = chance.choice((stitch, *OTHER_STITCHES[stitch]))
    pages = [_page(case, exchanged(line, case, values, stitch), values, stitch) for line in case.wordings]
    pages += [exchanged(text, case, values, stitch) for text in case.patterns]
    for page in pages:
        _check(case, page, values, stitch)


def _check(case: Case, page: str, values: dict[str, int], stitch: str) -> None:
    pattern, findings = read(page)
    tally, more = count(pattern)
    said = ", ".join(sorted({one.name for one in findings + more}))
    rows = list(tally.rows())
    results = dict(case.results)
    unread = [row.label for row in rows for result in row.results if result is not None and result.unread]
    assert not unread or "unread" in results, f"{page}\nwords of {unread} were not read"
    assert said == exchanged(results.get("findings", ""), case, values, stitch), f"{page}\nwas said of it: {said}"
    if case.wordings:
        assert rows, f"{page}\nno row was read"
        for key in ("left", "lacking"):
            results.setdefault(key, "0")
    for key, value in results.items():
        if key in ("findings", "unread"):
            continue
        if key == "rows":
            assert [_row_line(row) for row in rows] == _rows_expected(value, case, values, stitch), page
            continue
        if key == "last row":
            assert [_row_line(rows[-1])] == _rows_expected(value, case, values, stitch), page
            continue
        if key in ("stitches", "colours"):
            want = ", ".join(sorted(_listed(value, case, values, stitch)))
        else:
            want = " | ".join(_expected(value, case, values, stitch))
        if case.wordings:
            assert rows
            got = _one_row(key, rows[-1], pattern.language)
        else:
            got = _one_row(key, rows[-1], pattern.language) if key == "depth" else _fact(key, pattern, tally)
        assert got == want, f"{page}\n{key} is {got}, not {want}"


def _listed(value: str, case: Case, values: dict[str, int], stitch: str) -> list[str]:
    """`18 = k*a sc, 6 = k sc2tog`: numbers with what they count, worked out one by one."""
    items = []
    for part in re.split(r",\s+", value):
        formula = re.match(r"(?P<lead>[A-Z][\w+]* )?(?P<number>\d+) = (?P<formula>\S+)(?P<what> .*)?$", part)
        if formula is None:
            items.append(exchanged(part, case, values, stitch))
            continue
        number = _expected(f"{formula['number']} = {formula['formula']}", case, values, stitch)[0]
        if number == "0":
            continue
        what = exchanged(formula["what"] or "", case, values, stitch)
        items.append(f"{formula['lead'] or ''}{number}{what}")
    return items
