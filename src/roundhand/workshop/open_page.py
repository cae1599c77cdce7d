"""A page that somebody is writing on: at every keystroke only what has changed is read and worked anew."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from roundhand.checks import Choice
from roundhand.findings import Finding, Source, in_order
from roundhand.notation import KeptLines, read
from roundhand.notation.tree import Pattern
from roundhand.tally import AlikeRows, Tally, count
from roundhand.workshop.beside import Beside
from roundhand.workshop.reading import Reading, edited

_EVERYTHING = Choice()


class _Counted(msgspec.Struct, frozen=True):
    """A text read and counted, with what was found on the way."""

    text: str
    pattern: Pattern
    tally: Tally
    findings: tuple[Finding, ...]


class OpenPage:
    """Answers for one text after another, each of which is mostly the one before.

    Every answer equals that of `counted` or `understand` for the same text. What is kept is the last text alone: its
    lines as they were read, and what its rows have come to. One page at a time; not for several threads.

    >>> page = OpenPage()
    >>> text = "Cap\\n\\nRnd 1: 6 sc in a magic ring. (6)\\nRnd 2: 2 sc in each st around. (12)"
    >>> [row.worked for row in page.counted(text).tally.rows()]
    [(6,), (12,)]
    >>> [row.worked for row in page.counted(text.replace("6", "7")).tally.rows()]
    [(7,), (14,)]
    """

    def __init__(self) -> None:
        self._lines = KeptLines()
        self._rows = AlikeRows()
        self._last: _Counted | None = None

    def counted(self, text: str) -> Reading:
        """The text read and counted, without the edit."""
        now = self._counted(text)
        return Reading(Source(text), now.pattern, now.tally, tuple(in_order(now.findings)))

    def understood(
        self,
        text: str,
        said: Iterable[Finding] = (),
        measured: Beside | None = None,
        choice: Choice = _EVERYTHING,
    ) -> Reading:
        """The text with the whole edit; what is given beside it means the same as for `understand`."""
        now = self._counted(text)
        return edited(text, now.pattern, now.tally, [*said, *now.findings], measured, choice)

    def _counted(self, text: str) -> _Counted:
        """The text read and counted, once however often it is asked about."""
        if self._last is None or self._last.text != text:
            pattern, findings = read(text, self._lines)
            tally, more = count(pattern, self._rows)
            self._last = _Counted(text, pattern, tally, (*findings, *more))
        return self._last
