"""The page of stitches, made from the dictionary, so that it cannot go stale.

python -m tests.docs.stitch_pages          prints it
python -m tests.docs.stitch_pages --write  puts it into the folder of documents
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable, Iterator
from fractions import Fraction
from pathlib import Path

from roundhand.notation.explain import explain
from roundhand.stitches import Stitch, dictionary, write_recipe
from roundhand.terms import WORDS, languages, vocabulary

PAGE = Path(__file__).resolve().parents[2] / "docs" / "stitches.md"

_HEAD = """# The stitches

Every stitch that roundhand knows by itself: {number}. The page is made from the dictionary
(`src/roundhand/stitches/data/`) and the words (`src/roundhand/terms/data/`) by `python -m tests.docs.stitch_pages
--write`, and a test fails where it no longer says the same. A stitch that is not here is defined in the pattern, in
words.

- **worked**: the movements of the hook, from which the rest of the program derives what it knows. `yo` is a yarn
  over; an insertion that names no place goes into the next stitch.
- **loops**: the most that lie on the hook while it is worked. Before and after there is one.
- **uses, makes**: places of the row below that it is worked over, stitches that it leaves on top.
- **high**: nominal heights, in chains and in singles. Real heights come from a gauge.
- **turning**: the usual chains at the start of a row, and whether they count as a stitch.
- **known**: how well the facts of the row are known. *found*: read in the source named. *memory*: recalled without
  the text at hand, and no proof of a standard. *common practice*: what makers generally do. *ours*: decided here.
  None of them is a standard.
- A dash stands where a language has no word of its own, or where nothing is usual.
"""

# Ten that between them have every kind of movement.
_TOLD = (
    "half_double", "treble", "extended_single", "front_post_double", "long_single", "double_3_together",
    "cluster_3_double", "popcorn_5_double", "linked_double", "tunisian_simple",
)  # fmt: skip


def page() -> str:
    """The whole page."""
    stitches = dictionary()
    sources = list(dict.fromkeys(stitch.source for stitch in _in_order(stitches.values())))
    lines = [_HEAD.format(number=len(stitches))]
    for family in dict.fromkeys(stitch.family for stitch in _in_order(stitches.values())):
        lines += [f"## {_named(family)}", "", *_table(family, sources), ""]
    lines += ["## Told in words", "", "Made from the movements above, in the terms of the pattern.", ""]
    for id in _TOLD:
        lines += [f"**{_named(id)}**", ""]
        lines += [f"- {language}: {explain(stitches[id].recipe, language)}" for language in reversed(languages())]
        lines.append("")
    lines += ["## Sources", "", *(f"{number}. {source}" for number, source in enumerate(sources, 1)), ""]
    return "\n".join(lines)


def _in_order(stitches: Iterable[Stitch]) -> list[Stitch]:
    """By family, the lowest first; in a family the plain stitch first."""
    known = dictionary()
    return sorted(
        stitches,
        key=lambda one: (known[one.family].height_chains, one.family, one.id != one.family, one.uses, one.id),
    )


def _table(family: str, sources: list[str]) -> Iterator[str]:
    yield "| stitch | US | UK | worked | loops | uses, makes | high | turning | known | source |"
    yield "| --- | --- | --- | --- | ---: | --- | --- | --- | --- | ---: |"
    for stitch in _in_order(one for one in dictionary().values() if one.family == family):
        cells = (
            f"`{stitch.id}`",
            *(_word(stitch.id, language) for language in ("US", "UK")),
            write_recipe(stitch.recipe),
            str(stitch.peak),
            f"{stitch.uses}, {stitch.makes}",
            f"{_number(stitch.height_chains)} ch, {_number(stitch.height)}",
            _turning(stitch),
            stitch.evidence,
            str(sources.index(stitch.source) + 1),
        )
        yield f"| {' | '.join(cells)} |"


def _word(id: str, language: str) -> str:
    words = vocabulary(language)
    short = words.short(id)
    found = words.find([piece[0] for piece in WORDS.finditer(short.lower())], 0)
    return short if found is not None and found.value == id else "-"


def _named(id: str) -> str:
    us, uk = (_full(id, language) for language in ("US", "UK"))
    return f"{us.capitalize()} (UK: {uk})" if us != uk else us.capitalize()


def _full(id: str, language: str) -> str:
    """The fullest name; for several together, that of one of them."""
    names = vocabulary(language).full_names
    together = re.fullmatch(r"(.+)_(\d+)_together", id)
    if id not in names and together is not None and together[1] in names:
        return f"{names[together[1]]} {together[2]} together"
    return names.get(id, id.replace("_", " "))


def _number(value: Fraction) -> str:
    whole, rest = divmod(value, 1)
    part = {Fraction(1, 4): "\u00bc", Fraction(1, 2): "\u00bd", Fraction(3, 4): "\u00be"}.get(rest, "")
    return f"{whole or ''}{part}" if part else str(value)


def _turning(stitch: Stitch) -> str:
    if stitch.turning_chain is None:
        return "-"
    counts = {True: "counts", False: "does not count", None: "the pattern must say"}[stitch.turning_chain_counts]
    return f"ch {stitch.turning_chain}, {counts}"


if __name__ == "__main__":
    if sys.argv[1:] == ["--write"]:
        PAGE.write_text(page(), encoding="utf-8")
    else:
        print(page())
