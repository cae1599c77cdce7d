"""Lines of rows and steps that have been read, so that the same words need not be read again.

A pattern says many of its rows more than once, and whoever types changes one row of a page. What a line is read as
depends on its words, on its sizes and on what words mean on the page, and not on where it stands: it is moved there. Of
a row with a plain number, `Rnd 14: …`, the number is exchanged as well.
"""

from __future__ import annotations

import re
from collections.abc import Hashable

import msgspec

from roundhand.findings import Finding, Span
from roundhand.notation.moving import moved
from roundhand.notation.tokens import Lexicon
from roundhand.notation.tree import Amount, Label, Node, Stated

# A label that is a word and a number. What stands behind it is read alike whatever the number is.
_NUMBERED = re.compile(
    r"((?:rnd|round|rd|row|r)s?\.?\s*)(\d{1,4})(?=\s*(?:[(\[](?:rs|ws|right side|wrong side)[)\]]\s*)?[:.]\s)",
    re.IGNORECASE,
)


class Said(msgspec.Struct, frozen=True):
    """What the words of a line say to some sizes: instructions, and counts of them."""

    nodes: tuple[Node, ...]
    stated: tuple[Stated, ...]
    sizes: tuple[int, ...]


class Told(msgspec.Struct, frozen=True):
    """What one line was read as: a label (None for a step, and where none makes sense), and what is said to each group
    of sizes that go a way of their own. `words` is how many words it has, `foreign` those of other terms. `numbered` is
    true where the number of the label may have a part in the reading of what stands behind it."""

    label: Label | None
    said: tuple[Said, ...]
    findings: tuple[Finding, ...]
    words: int
    foreign: tuple[tuple[str, Span], ...]
    numbered: bool = False


class Wording(msgspec.Struct, frozen=True):
    """The words of a line and where they stand. `key` is alike for lines that are read alike; of a row with a plain
    number it leaves out the `number`, behind which so many signs of the line are `passed`."""

    key: Hashable
    start: int
    end: int
    number: int | None = None
    passed: int = 0

    @classmethod
    def of(cls, text: str, start: int, end: int, beside: Hashable) -> Wording:
        """The words from `start` to `end`; `beside` is all else that their reading rests on.

        >>> first, second = "Rnd 9: Sc around.", "Rnd 10: Sc around."
        >>> Wording.of(first, 0, len(first), ()).key == Wording.of(second, 0, len(second), ()).key
        True
        """
        found = _NUMBERED.match(text, start, end)
        if found is None:
            return cls((text[start:end], beside), start, end)
        return cls((found[1], text[found.end() : end], beside), start, end, int(found[2]), found.end() - start)


class KeptLines:
    """The lines of the text that is being read, and of the text before it."""

    def __init__(self) -> None:
        self._lexicon: Lexicon | None = None
        self._names: tuple[str, ...] = ()
        self._lines: dict[Hashable, tuple[Wording, Told]] = {}
        self._before: dict[Hashable, tuple[Wording, Told]] = {}
        # The same by words and place: above the place where somebody types nothing moves.
        self._placed: dict[Hashable, Told] = {}
        self._placed_before: dict[Hashable, Told] = {}

    def begin(self, lexicon: Lexicon, names: tuple[str, ...]) -> Lexicon:
        """Begins a text. Lines of the text before are of use where the sizes are called the same and words mean the
        same; then its lexicon, which has looked up most words already, is given back in place of the new one."""
        last = self._lexicon
        same = last is not None and self._names == names and last.means_as(lexicon)
        self._before, self._lines = (self._lines if same else {}), {}
        self._placed_before, self._placed = (self._placed if same else {}), {}
        self._lexicon, self._names = (last if same else lexicon), names
        return last if same and last is not None else lexicon

    def find(self, wording: Wording) -> Told | None:
        """What a line is read as, with its places and its number as they are here; None for one not read before."""
        found = self._at(wording.key)
        if found is not None and found[1].numbered:
            found = self._at((wording.key, wording.number))
        if found is None:
            return None
        place = (wording.key, wording.start, wording.number)
        told = self._placed.get(place) or self._placed_before.get(place) or _here(*found, wording)
        self._placed[place] = told
        return told

    def _at(self, key: Hashable) -> tuple[Wording, Told] | None:
        found = self._lines.get(key)
        if found is None and (found := self._before.get(key)) is not None:
            self._lines[key] = found
        return found

    def keep(self, wording: Wording, told: Told) -> None:
        """Keeps what a line was read as."""
        if wording.number is not None and (told.numbered or not _is_plain(told.label, wording.number)):
            told = msgspec.structs.replace(told, numbered=True)
            self._lines[wording.key, wording.number] = wording, told
        else:
            told = msgspec.structs.replace(told, numbered=False)
        self._lines[wording.key] = wording, told
        self._placed[wording.key, wording.start, wording.number] = told


def _is_plain(label: Label | None, number: int) -> bool:
    """Whether a label is its number and nothing more, so that another may stand for it."""
    if label is None or label.first is None or label.last is None or label.ranged or label.numbers:
        return False
    return label.first.values == label.last.values == (number,) and label.next_rows is None and label.rows is None


def _here(there: Wording, told: Told, here: Wording) -> Told:
    """What a line was read as, moved from where it was to where it is."""
    by = here.end - there.end
    if there.number == here.number and there.passed == here.passed:
        return moved(told, by) if by else told
    label = told.label
    told = moved(msgspec.structs.replace(told, label=None), by)
    return msgspec.structs.replace(told, label=_renumbered(label, there, here) if label is not None else None)


def _renumbered(label: Label, there: Wording, here: Wording) -> Label:
    """A plain label with another number, in another place."""
    ahead, beyond = here.start - there.start, here.end - there.end
    behind = there.start + there.passed

    def place(span: Span) -> Span:
        return Span(
            span.start + (beyond if span.start >= behind else ahead),
            span.end + (beyond if span.end >= behind else ahead),
        )

    def number(amount: Amount | None) -> Amount | None:
        if amount is None or here.number is None:
            return None
        return Amount((here.number,), place(amount.span), tuple(place(span) for span in amount.spans), amount.what)

    return msgspec.structs.replace(label, span=place(label.span), first=number(label.first), last=number(label.last))
