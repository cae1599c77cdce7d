"""What somebody who types waits for: a page of five sizes and a hundred rounds, changed in one place, answered anew.

Every keystroke gives another text, and none comes twice. What an open page has kept of the text before is of use to it,
as at the desk: that is what is measured here.
"""

from collections.abc import Iterator
from functools import partial

from bench.table import Line
from bench.texts import different_rounds, fresh, hundred_rounds
from bench.yardstick import Timing, once, reference_loop
from roundhand.workshop import OpenPage

# Where the text is edited: behind which words, and what is exchanged for what and back again.
EDITS = {
    "row 1": ("Rnd 1:", "8 (9", "9 (9"),
    "the last row": ("Rnd 100:", "join", "join with sl st in first hdc"),
    "`Terms:`": ("Terms:", "US", "UK"),
    "`Sizes:`": ("Sizes:", "XS", "XXS"),
}
TEXTS = {"rows repeat": hundred_rounds, "no two rows alike": different_rounds}
# Of so many keystrokes one in twenty may take longer than the time that is told.
_FEWEST = 20


def typed(text: str, edit: str, number: int) -> str:
    """The text behind the keystroke of this number: every other one as it was, those between with the letters
    exchanged.

    >>> typed("Sizes: XS (S)", "`Sizes:`", 1).strip(), typed("Sizes: XS (S)", "`Sizes:`", 2).strip()
    ('Sizes: XXS (S)', 'Sizes: XS (S)')
    """
    words, old, new = EDITS[edit]
    at = text.index(old, text.index(words))
    changed = text[:at] + new + text[at + len(old) :] if number % 2 else text
    return fresh(changed, number)


def keystrokes(rounds: int) -> Iterator[Line]:
    """The time that 19 of 20 keystrokes keep within, for the counts and then for the whole edit."""
    for name, make in TEXTS.items():
        for edit in EDITS:
            text, page = make(), OpenPage()
            page.understood(typed(text, edit, 0))
            counts, edits, loop = [], [], once(reference_loop)
            for number in range(1, max(_FEWEST, rounds) + 1):
                now = typed(text, edit, number)
                counts.append(once(partial(page.counted, now)))
                edits.append(counts[-1] + once(partial(page.understood, now)))
                loop = min(loop, once(reference_loop))
            for what, times, promised in (("counts", counts, "50 ms"), ("whole edit", edits, "500 ms")):
                within = sorted(times)[-1 - len(times) // 20]
                yield Line(f"keystroke in {edit}, {name}: {what}", Timing(within, loop), "", promised)
