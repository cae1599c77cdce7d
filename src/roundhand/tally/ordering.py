"""The lines of a part in the order in which they are worked: labels that alternate, rows that a rule fills in.

`Rows 7 and 9` and `Rows 8 and 10` are worked 7, 8, 9, 10; after `Row 2 and all WS rows` every row of the wrong side
that is not written is worked as the rule says; a foundation row without a number stands before the row that follows.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec

from roundhand.notation.tree import Amount, RowLine, Step

Lines = Sequence[RowLine | Step]
# A gap longer than this is a mistake in a label and is filled by nobody.
_LONGEST_GAP = 400


def in_working_order(lines: Lines) -> list[RowLine | Step]:
    """The lines with one label each, in the order of the hands."""
    if not any(isinstance(line, RowLine) and (line.label.numbers or line.label.every) for line in lines):
        return list(lines)
    return _ruled(_alternating(lines))


def _numbered(line: RowLine, number: int) -> RowLine:
    """One row of a line that speaks of several."""
    amount = Amount((number,), line.label.span)
    label = msgspec.structs.replace(line.label, first=amount, last=amount, numbers=(), every="", ranged=False)
    return msgspec.structs.replace(line, label=label)


def _first_of(line: RowLine | Step) -> int | None:
    """The number of a line with a label of its own."""
    if not isinstance(line, RowLine) or line.label.first is None:
        return None
    return next((value for value in line.label.first.values if value is not None), None)


def _last_of(line: RowLine) -> int | None:
    if line.label.last is None:
        return _first_of(line)
    return next((value for value in reversed(line.label.last.values) if value is not None), None)


def _alternating(lines: Lines) -> list[RowLine | Step]:
    """Lists of labels taken apart; lines between whose numbers others lie are worked in turns with them."""
    out: list[RowLine | Step] = []
    held: list[tuple[int, RowLine]] = []

    def let_go() -> None:
        out.extend(line for _, line in sorted(held, key=lambda entry: entry[0]))
        held.clear()

    for line in lines:
        if isinstance(line, RowLine) and line.label.numbers:
            if held and min(line.label.numbers) > max(number for number, _ in held):
                let_go()
            held += [(number, _numbered(line, number)) for number in line.label.numbers]
            continue
        number = _first_of(line)
        if held and isinstance(line, RowLine) and number is not None and not line.label.every:
            known = [one for one, _ in held]
            if number < max(known) and number not in known and not line.label.ranged:
                held.append((number, line))
                continue
        let_go()
        out.append(line)
    let_go()
    return out


def _ruled(lines: Iterable[RowLine | Step]) -> list[RowLine | Step]:
    """Rows filled in where a rule speaks of them and no line does."""
    out: list[RowLine | Step] = []
    rules: list[RowLine] = []
    ordered = list(lines)
    last = 0
    for at, line in enumerate(ordered):
        if not isinstance(line, RowLine):
            out.append(line)
            continue
        if line.label.every == "foundation":
            following = next((number for other in ordered[at + 1 :] if (number := _first_of(other)) is not None), 1)
            last = 1 if following == 2 else 0
            out.append(_numbered(line, last))
            continue
        if line.label.every:
            rules.append(line)
            number = _first_of(line)
            # A rule told before the rows begins with a row that has not come yet.
            if number is not None and number <= last + 1:
                out.append(_numbered(line, number))
                last = number
            continue
        number = _first_of(line)
        if number is not None and last < number <= last + _LONGEST_GAP:
            for missing in range(last + 1, number):
                rule = next((one for one in reversed(rules) if _speaks_of(one, missing)), None)
                if rule is not None:
                    out.append(_numbered(rule, missing))
        out.append(line)
        last = _last_of(line) or last
    return out


def _speaks_of(rule: RowLine, number: int) -> bool:
    """Whether a rule is about a row of this number; the right side is on odd rows unless its first row tells."""
    first = _first_of(rule)
    if first is not None and rule.label.every == "all":
        return number >= first
    if first is not None:
        return number >= first and (number - first) % 2 == 0
    return number % 2 == (0 if rule.label.every in ("even", "WS") else 1)
