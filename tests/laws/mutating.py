"""Texts that have come to harm: shipped patterns, forms, survey, cases and replays, with a few things done to them."""

from __future__ import annotations

import random
from pathlib import Path

from tests.notation.test_forms import tables

TESTS = Path(__file__).resolve().parents[1]
MARKS = "()[]{}*,;:.-–—=/'\"×&+#_\n\t \u00a0\u2028½٣" + "²x"
WORDS = ("rep from *", "around", "in", "each", "Rnd 5:", "Row", "999999999", "0", "- (-, 3)", "inc", "dec", "sc2tog",
         "to last 3 sts", "Sizes: S (M, L)", "ch 3", "join", "turn", "evenly", "x 5", "times", "more", "blo", "fpdc",
         "With B", "All sizes:", "Rep Rnds 1-9999", "until", "(", ")", "*", "**", "spike sc 3 rnds below",
         "2nd ch from hook", "held double", "two strands", "change to B in first st")  # fmt: skip


def sources() -> dict[str, list[str]]:
    """The texts that are mutated, by where they come from: whole pages, and small ones made of wordings of rows."""
    found = {
        "patterns": _files(TESTS.parent / "patterns"),
        "replays": _files(TESTS / "sources" / "replays"),
    }
    for name, folder in (
        ("forms", TESTS / "notation" / "forms"),
        ("survey", TESTS / "notation" / "survey"),
        ("cases", TESTS / "cases"),
    ):
        found[name] = _of_tables(folder)
    return found


def wordings() -> list[str]:
    """Every wording of a row in the tables, once."""
    folders = (TESTS / "notation" / "forms", TESTS / "notation" / "survey", TESTS / "cases")
    return list(dict.fromkeys(line for folder in folders for case in tables(folder) for line in case.wordings))


def _files(folder: Path) -> list[str]:
    return [file.read_text(encoding="utf-8") for file in sorted(folder.glob("*.txt"))]


def _of_tables(folder: Path) -> list[str]:
    """The pages between fences, and the wordings, six rows to a page."""
    cases = tables(folder)
    texts = [text for case in cases for text in case.patterns]
    lines = [line for case in cases for line in case.wordings]
    for at in range(0, len(lines), 6):
        rows = "\n".join(f"Rnd {number}: {line}" for number, line in enumerate(lines[at : at + 6], start=2))
        texts.append(f"A Form\n\nRnd 1: 24 sc in a magic ring.\n{rows}\n")
    return texts


def drawn(texts: dict[str, list[str]], trial: int) -> str:
    """The text of a trial: every source has its turn, and the same number draws the same text again."""
    chance = random.Random(trial)
    kinds = list(texts)
    return mutated(chance.choice(texts[kinds[trial % len(kinds)]]), chance)


def mutated(text: str, chance: random.Random) -> str:
    """The text with a few things done to it that hasty fingers and bad scans do."""
    for _ in range(chance.randint(1, 6)):
        at = chance.randrange(len(text) + 1)
        to = min(len(text), at + chance.choice((1, 1, 2, 5, 20, 100)))
        way = chance.randrange(10)
        if way == 0:
            text = text[:at] + text[to:]
        elif way == 1:
            text = text[:to] + text[at:to] + text[to:]
        elif way == 2:
            text = text[:at] + text[at:to][::-1] + text[to:]
        elif way == 3:
            text = text[:at] + chance.choice(MARKS) + text[at:]
        elif way == 4:
            text = text[:at] + " " + chance.choice(WORDS) + " " + text[at:]
        elif way == 5:
            lines = text.split("\n")
            one, two = chance.randrange(len(lines)), chance.randrange(len(lines))
            lines[one], lines[two] = lines[two], lines[one]
            text = "\n".join(lines)
        elif way == 6:
            other = chance.randrange(len(text) + 1)
            text = text[:at] + text[other : other + 200] + text[to:]
        elif way == 7:
            text = text[:at] + str(chance.choice((0, 1, 7, 10**6, 10**12, 10**30, 10**60))) + text[to:]
        elif way == 8:
            text = text[:at] + text[at:to].swapcase() + text[to:]
        else:
            # Any letter that there is, but for halves of pairs, which no decoded text holds.
            letter = chance.randrange(0x110000 - 0x800)
            text = text[:at] + chr(letter if letter < 0xD800 else letter + 0x800) + text[at:]
    return text
