"""Patterns with numbers to choose: the files in `laws/`, worked for every choice that they name.

In a text `{4*n+2}` is worked out, `{nth(n)}` is an ordinal, `{times(n)}` is "once", "twice" or "3 times", and a line
that begins with `[r 3..n]` is written out for every r from 3 to n; ` // ` in it breaks a line. The expectations below
the text use the same formulas; those of `All rows` hold for the sum over the rows, and `All rows, number` for how many
there are.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from tests.sources.compare import Check, Value, quantity, rows_by_label, worked

FOLDER = Path(__file__).parent / "laws"
_FORMULA = re.compile(r"\{([^{}]+)\}")
_EACH = re.compile(r"\[(\w) ([^\]]+?)\.\.([^\]]+)\] ")
_WANTED = re.compile(r"(?P<row>All rows|(?:[^:,]+, )?(?:Rnd|Row) \d+)(?:, (?P<what>[^:]+))?: (?P<formula>.+)")


def _nth(number: int) -> str:
    end = "th" if 10 <= number % 100 <= 20 else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{end}"


def _times(number: int) -> str:
    return {1: "once", 2: "twice"}.get(number, f"{number} times")


def _work_out(formula: str, values: dict[str, int]) -> int | str:
    known = {"nth": _nth, "times": _times, "round": round, "sum": sum, "range": range, "chr": chr}
    result = eval(formula, {"__builtins__": {}}, {**known, **values})
    assert isinstance(result, int | str), formula
    return result


def _written(lines: list[str], values: dict[str, int]) -> Iterator[str]:
    """Lines with their formulas worked out."""
    for line in lines:
        each = _EACH.match(line)
        inner = [values]
        if each is not None:
            first, last = _work_out(each[2], values), _work_out(each[3], values)
            assert isinstance(first, int) and isinstance(last, int)
            inner = [{**values, each[1]: number} for number in range(first, last + 1)]
            line = line[each.end() :]
        for chosen in inner:
            for part in line.split(" // "):
                yield _filled_in(part, chosen)


def _filled_in(part: str, values: dict[str, int]) -> str:
    """A piece of a line with its formulas worked out for these values."""
    return _FORMULA.sub(lambda found: str(_work_out(found[1], values)), part)


class Case(NamedTuple):
    """A law with its numbers chosen: the pattern as written for them, and what its rows must come to."""

    group: str
    source: str
    name: str
    page: str
    values: dict[str, int]
    wanted: str


def cases() -> Iterator[Case]:
    """Every law with every choice of its numbers."""
    for file in sorted(FOLDER.glob("*.md")):
        group, *laws = re.split(r"^## ", file.read_text(encoding="utf-8"), flags=re.MULTILINE)
        for law in laws:
            yield from _of_law(file.stem, group.splitlines()[0].removeprefix("# "), law)


def _of_law(stem: str, group: str, law: str) -> Iterator[Case]:
    head, text, wanted = law.split("```")
    name, *facts = [line for line in head.splitlines() if line]
    known = dict(fact.split(": ", 1) for fact in facts)
    for choice in known["for"].split("; "):
        values = {one.split(" = ")[0]: int(one.split(" = ")[1]) for one in choice.split(", ")}
        page = "\n".join(_written(text.strip("\n").splitlines(), values)) + "\n"
        yield Case(group, known["source"], f"{stem}, {name}, {choice}", page, values, wanted)


def checks() -> Iterator[Check]:
    """A check for every law and every choice of its numbers."""
    for case in cases():
        rows, results = worked(case.page)
        found = dict(rows_by_label(rows))
        for line in _written([line for line in case.wanted.splitlines() if line], case.values):
            want = _WANTED.fullmatch(line)
            assert want is not None, f"{case.name}: {line!r} says nothing of a row"
            what = want["what"] or "count"
            number = _work_out(want["formula"], case.values)
            if want["row"] == "All rows":
                amount: object = sum(quantity(one, what) or 0 for one in rows) if what != "number" else len(rows)
            else:
                row = found.get(want["row"])
                amount = row and quantity(row, what)
            results.append(Value(f"{want['row']} {what}", number, amount))
        yield Check(case.group, case.source, case.name, tuple(results))
