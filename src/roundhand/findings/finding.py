"""A remark: its name, its weight, its place, the facts it rests on and the ways on that it knows."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Literal

import msgspec

from roundhand.findings.source import Span

Severity = Literal["error", "warning", "advice"]
Fact = str | int | float | bool | None | tuple[int | str | None, ...]

# The three weights as an editor would pencil them, weightiest first.
_WORDS: Mapping[Severity, str] = {"error": "Fix", "warning": "Look", "advice": "Consider"}
_ORDER = tuple(_WORDS)


class Mark(msgspec.Struct, frozen=True):
    """A second place that a remark speaks of, with a short word on what it shows there."""

    span: Span
    label: str


class Edit(msgspec.Struct, frozen=True):
    """A mend: replace the span by the text. *sure* leaves the fabric as it is, *ask* changes what is made."""

    span: Span
    text: str
    certainty: Literal["sure", "ask"]


class Finding(msgspec.Struct, frozen=True):
    """A remark on a pattern.

    `name` is stable and names the fault. `sizes` are the names of the sizes it concerns. `row` is the label of the
    row as the page shows it, empty for a remark on no row. `because` and `help` are whole sentences or empty.
    `follows` names the remark that this one follows from; such remarks are folded away, since mending the first
    mends them too.
    """

    name: str
    severity: Severity
    headline: str
    span: Span
    sizes: tuple[str, ...] = ()
    row: str = ""
    because: str = ""
    help: str = ""
    facts: Mapping[str, Fact] = {}
    edits: tuple[Edit, ...] = ()
    see: tuple[Mark, ...] = ()
    label: str = ""
    follows: str = ""


def severity_word(severity: Severity) -> str:
    """The weight in the designer's words.

    >>> severity_word("error"), severity_word("advice")
    ('Fix', 'Consider')
    """
    return _WORDS[severity]


def in_order(findings: Iterable[Finding]) -> list[Finding]:
    """The findings in the order of the page; at one place the weightier first."""
    return sorted(findings, key=lambda one: (one.span.start, _ORDER.index(one.severity), one.span.end, one.name))
