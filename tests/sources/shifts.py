"""The shift between US and UK words: US name plus one step is the UK name, for every stitch and every compound."""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.stitches import dictionary
from roundhand.terms import Vocabulary, vocabulary
from roundhand.terms.vocabulary import WORDS
from tests.sources import replays
from tests.sources.compare import Check, Value, worked

SOURCE = (
    "US/UK stitch names: cvetulka.blogspot.com/p/abbreviations.html, okeydokeys.com, danceswithwools.net/2022/09/16; "
    "the rule of one step: introductions to UK terms"
)
# Each word of height and the next one up, longest first so that "half double crochet" is not taken for the double.
STEPS = (
    ("half double crochet", "half treble"),
    ("half - double crochet", "half - treble"),
    ("half double", "half treble"),
    ("triple crochet", "double treble"),
    ("quadruple treble", "quintuple treble"),
    ("quadtr", "quinttr"),
    ("trc", "dtr"),
    ("single crochet", "double crochet"),
    ("double treble", "triple treble"),
    ("triple treble", "quadruple treble"),
    ("double crochet", "treble"),
    ("treble crochet", "double treble"),
    ("treble", "double treble"),
    ("hdc", "htr"),
    ("trtr", "qtr"),
    # One step further than the sources go; the UK word is from memory.
    ("qtr", "quintr"),
    ("dtr", "ttr"),
    ("sc", "dc"),
    ("dc", "tr"),
    ("tr", "dtr"),
)
_STEP = dict(STEPS)
# A word of height alone, or with what the trade writes against it: fpdc, dc2tog, 3dc, esc.
_BEFORE = r"(?<![a-z])(?P<before>fp|bp|f|e|ex|inv|rev|r|l|x|ln|c)?"
_HEIGHT = re.compile(_BEFORE + r"(?P<word>" + "|".join(word for word, _ in STEPS) + r")(?=s\b|\d|\b|-|blo|flo)", re.I)


def shifted(words: str) -> str:
    """US words as they are said in the UK."""

    def step(found: re.Match[str]) -> str:
        new = _STEP[found["word"].lower()]
        new = new.capitalize() if found["word"][0].isupper() else new
        return (found["before"] or "") + new

    return _HEIGHT.sub(step, words)


def us_words() -> dict[str, list[str]]:
    """Every US wording of every stitch, with the posts, decreases and groups that follow from it."""
    us = vocabulary("US")
    words: dict[str, list[str]] = {}
    for said, id in us.stitch_words():
        words.setdefault(id, []).append(said)
    for id in dictionary():
        if meant(us, us.short(id)) == id:
            words.setdefault(id, []).append(us.short(id))
    return words


def meant(language: Vocabulary, words: str) -> str | None:
    """The stitch that a whole wording means in a language; None where it means none."""
    cut = [found[0] for found in WORDS.finditer(words.lower())]
    found = language.find(cut, 0)
    return found.value if found is not None and found.length == len(cut) else None


def checks() -> Iterator[Check]:
    """Every US wording shifted is a UK wording of the same stitch; and every replay in US words, shifted, comes to
    the same."""
    uk = vocabulary("UK")
    for id, said in us_words().items():
        values = []
        for words in said:
            values.append(Value(f"{words} -> {shifted(words)}", id, meant(uk, shifted(words))))
        yield Check("US words shifted to UK words", SOURCE, id, tuple(values), grows=True)
    for file in sorted(replays.FOLDER.glob("*.txt")):
        text = file.read_text(encoding="utf-8")
        if "Terms: US" not in text:
            continue
        before, _ = worked(text)
        after, remarks = worked(shifted(text).replace("Terms: US", "Terms: UK"))
        values = [*remarks, Value("rows", len(before), len(after))]
        values += [
            Value(f"{one.label} in UK words", one.worked[0], other.worked[0])
            for one, other in zip(before, after, strict=False)
        ]
        yield Check("Replays shifted to UK words", SOURCE, file.stem, tuple(values))
