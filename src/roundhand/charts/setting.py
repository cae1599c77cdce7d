"""What a chart says beside its stitches: names of pattern, piece and size, of yarns and of stitches, and the cells."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction

import msgspec

from roundhand.charts.look import Look, colour_in
from roundhand.fabric import Fabric, RowMark
from roundhand.notation.tree import Pattern
from roundhand.stitches import Stitch
from roundhand.tally import Tally
from roundhand.terms import Vocabulary, vocabulary

# No letter is shown for stitches in a yarn that the pattern gives no label.
UNNAMED = ""
# The longest label that still fits into a cell.
_SHORT = 3
_FORMS = ("front_post_", "back_post_", "long_")


class Yarn(msgspec.Struct, frozen=True):
    """A yarn of the chart: the letter in its cells, what the pattern calls it, and its colour as `#rrggbb`.

    `given` is false where the colour is a tint that stands in for one that the pattern does not give.
    """

    letter: str
    label: str
    name: str
    colour: str
    given: bool


class Cells(msgspec.Struct, frozen=True):
    """The size of a stitch as the gauges give it: its width, and a height for every worked row, all in one unit."""

    width: Fraction
    heights: tuple[Fraction, ...]


class Setting(msgspec.Struct, frozen=True):
    """Everything that is said on a chart. `names` and `explained` are the short and the full words for stitch ids;
    `colour_word` is spelled as the pattern's terms are. `own` are the stitches that the pattern defines, by id."""

    title: str
    piece: str
    size: str
    yarns: Mapping[str, Yarn]
    names: Mapping[str, str]
    explained: Mapping[str, str]
    colour_word: str = "colour"
    language: str = "en"
    own: Mapping[str, Stitch] = {}

    def name(self, kind: str) -> str:
        """The short word for a stitch id; the id in plain words where nobody has named it."""
        return self.names.get(kind) or kind.replace("_", " ")


def setting(tally: Tally, fabric: Fabric, look: Look | None = None) -> Setting:
    """The words of a pattern for the chart of one of its fabrics; her own names of stitches come first.

    >>> from roundhand.fabric import build
    >>> from roundhand.notation import read
    >>> from roundhand.tally import count
    >>> text = "Tube\\n\\nYarn A: worsted, oat (#d8c9a3)\\n\\nTUBE\\nWith A, ch 6.\\nRow 1: sc in each ch across."
    >>> tally = count(read(text)[0])[0]
    >>> found = setting(tally, build(tally))
    >>> found.yarns["A"].colour, found.yarns["A"].given, found.name("single"), found.explained["single"]
    ('#d8c9a3', True, 'sc', 'single crochet')
    """
    pattern = tally.pattern
    sizes = pattern.sizes
    return Setting(
        pattern.title.title() if pattern.title.isupper() else pattern.title,
        fabric.name,
        sizes[fabric.size] if len(sizes) > 1 else "",
        _yarns(pattern, fabric, look or Look()),
        *_stitch_names(pattern, fabric),
        "colour" if vocabulary(pattern.language).side == "UK" else "color",
        own={one.stitch.id: one.stitch for one in pattern.definitions.values() if one.stitch is not None},
    )


def cells(
    fabric: Fabric,
    width: Callable[[str, str], Fraction | None],
    height: Callable[[str, str], Fraction | None],
) -> Cells | None:
    """The cells of a fabric from two answers of the gauges: the width and the row height of a stitch in a part.

    Both are asked with the name of a part and the id of the stitch that a row is mostly made of. None where a width
    or any height is missing, or none is above zero: then there is no gauge to be true to. Rows that add no height,
    as rounds of slip stitches, are drawn half as high as the lowest that does, so that they can be seen.
    """
    found: list[Fraction] = []
    wide: Fraction | None = None
    for row in fabric.worked:
        kind = main_kind(fabric, row)
        high = height(row.part, kind)
        if wide is None:
            wide = width(row.part, kind)
        if high is None or high < 0:
            return None
        found.append(high)
    lowest = min((high for high in found if high > 0), default=None)
    if wide is None or wide <= 0 or lowest is None:
        return None
    return Cells(wide, tuple(high or lowest / 2 for high in found))


def main_kind(fabric: Fabric, row: RowMark) -> str:
    """The stitch that a row is mostly made of, the first made among equals; empty for a row without stitches."""
    import numpy as np

    if not row.count:
        return ""
    values, first, counts = np.unique(fabric.kind[row.start : row.stop], return_index=True, return_counts=True)
    return fabric.kinds[int(values[np.lexsort((first, -counts))[0]])]


def _yarns(pattern: Pattern, fabric: Fabric, look: Look) -> dict[str, Yarn]:
    known = {yarn.label: yarn for yarn in pattern.yarns if yarn.label}
    labels = [label for label in known if label in fabric.colours]
    labels += [label for label in fabric.colours if label not in known]
    letters = _letters([label for label in labels if label != UNNAMED])
    found: dict[str, Yarn] = {}
    for number, label in enumerate(labels):
        # Several strands of one yarn look like that yarn.
        line = known.get(label.partition("+")[0] if len(set(label.split("+"))) == 1 else label)
        said = (line.colour, *line.words) if line is not None else ()
        coloured = next((words for words in said if colour_in(words)), "")
        value = colour_in(coloured)
        # `oat (#d8c9a3)` is a name and a value.
        name = (line.colour if line is not None else "") or coloured
        if value:
            name = name.partition("#")[0].rstrip(" (")
        tint = look.tints[number % len(look.tints)]
        found[label] = Yarn(letters.get(label, ""), label, name, value or tint, bool(value))
    return found


def _letters(labels: list[str]) -> dict[str, str]:
    """A letter for every yarn label: the label itself if it is short, else its first letters, all different."""
    found: dict[str, str] = {}
    taken: set[str] = set()
    for label in sorted(labels, key=lambda one: (len(one) > _SHORT, labels.index(one))):
        spare = [chr(number) for number in range(ord("A"), ord("Z") + 1)]
        wishes = (
            [label] if len(label) <= _SHORT else [label[0].upper(), *(one.upper() for one in label if one.isalnum())]
        )
        free = [wish for wish in (*wishes, *spare) if wish not in taken]
        found[label] = free[0] if free else str(len(taken) + 1)
        taken.add(found[label])
    return found


def _stitch_names(pattern: Pattern, fabric: Fabric) -> tuple[dict[str, str], dict[str, str]]:
    words = vocabulary(pattern.language)
    own: dict[str, str] = {}
    for definition in pattern.definitions.values():
        if definition.stitch is not None and definition.name:
            own.setdefault(definition.stitch.id, definition.name)
    names: dict[str, str] = {}
    explained: dict[str, str] = {}
    # A stitch round the post is told as the other side shows it, too.
    for kind in dict.fromkeys((*fabric.kinds, *map(from_behind, fabric.kinds))):
        names[kind] = _lower_first(own[kind]) if kind in own else words.short(kind)
        full = _full(words, kind)
        hers = [key for key, one in pattern.definitions.items() if one.stitch is not None and one.stitch.id == kind]
        longer = [key for key in hers if " " in key and not key.endswith("s") and key != names[kind].lower()]
        explained[kind] = max(longer, key=len, default=full)
        if explained[kind] == names[kind]:
            explained[kind] = ""
    return names, explained


def from_behind(kind: str) -> str:
    """A stitch round the post as the other side shows it; every other stitch is itself.

    >>> from_behind("front_post_double"), from_behind("double")
    ('back_post_double', 'double')
    """
    for side, other in (("front_post_", "back_post_"), ("back_post_", "front_post_")):
        if kind.startswith(side):
            return other + kind.removeprefix(side)
    return kind


def _lower_first(name: str) -> str:
    """A stitch's own name as it is said inside a row."""
    return name[:1].lower() + name[1:] if not name.isupper() else name


def _full(words: Vocabulary, kind: str) -> str:
    """The full name of a stitch: a spelling with whole words only, the shortest that says crochet before others.

    A form of a stitch is named after it: `front post double crochet`.
    """
    for prefix in _FORMS:
        base = kind.removeprefix(prefix)
        if base != kind:
            name = _full(words, base)
            return f"{prefix.replace('_', ' ')}{name}" if name else ""
    spelled = sorted(
        (spelling for spelling, stitch in words.stitch_words() if stitch == kind and _is_full(spelling)),
        key=lambda spelling: ("crochet" not in spelling, len(spelling), spelling),
    )
    return spelled[0] if spelled else ""


def _is_full(spelling: str) -> bool:
    return " " in spelling and all(len(word) > 3 and word.isalpha() for word in spelling.split())
