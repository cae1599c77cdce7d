"""The key of a chart: every yarn by its letter, every stitch by its words, and what the marks mean."""

from __future__ import annotations

from fractions import Fraction

import msgspec

from roundhand.charts.look import readable
from roundhand.charts.marks import loop_mark, stitch_mark, tongue
from roundhand.charts.plan import lines_of
from roundhand.charts.scene import PLAIN, Cell, Scene, is_post
from roundhand.charts.setting import UNNAMED
from roundhand.charts.told import yarn_words
from roundhand.drawing import Paint, Pen
from roundhand.stitches.symbols import symbol_marks

_TYPE = Fraction(33, 10)
_LEAD = Fraction(27, 20)
_COLUMN = Fraction(78)
_INDENT = Fraction(11)
_BOX_WIDTH, _BOX_HEIGHT = Fraction(8), Fraction(5)
# The symbol of a stitch has a higher box.
_TALL_BOX = Fraction(9)
# Loops and posts are drawn as the right side shows them, which a maker who has the wrong side in front must turn round.
_OTHER = "in rows from the left, with the wrong side in front, work the other one"
# How well the shape of a symbol is known, where no published list shows it: no symbol here is a standard.
_KNOWN = {"ours": "our own symbol", "memory": "symbol from memory"}


class Entry(msgspec.Struct, frozen=True):
    """A line of the key: its words, and what is drawn before it: `what` and the yarn, stitch or loop it is about."""

    words: str
    what: str
    about: str = ""


class Placed(msgspec.Struct, frozen=True):
    """An entry with its place on the paper and its words in lines."""

    entry: Entry
    corner: tuple[Fraction, Fraction]
    lines: tuple[str, ...]


def entries(scene: Scene) -> tuple[Entry, ...]:
    """The lines of the key: yarns, plain stitches, long ones, marks, loops, the repeat."""
    said = [Entry(yarn_words(scene.setting, label), "yarn", label) for label in scene.labels]
    kinds: dict[str, set[int]] = {}
    loops: dict[str, None] = {}
    for cells in scene.rows:
        for cell in cells:
            kinds.setdefault(cell.kind, set()).add(cell.depth)
            if cell.loop:
                loops.setdefault(cell.loop)
    plain = [kind for kind in kinds if kind in PLAIN and kind not in scene.symbols]
    if plain:
        said.append(Entry(f"plain cell: {'; '.join(_stitch_words(scene, kind) for kind in plain)}", "cell"))
    for kind, depths in kinds.items():
        deep = sorted(depth for depth in depths if depth > 1)
        if deep:
            numbers = " or ".join(map(str, deep))
            where = f"worked {numbers} {scene.one}s below, where the stem ends"
            said.append(Entry(f"{_stitch_words(scene, kind)}: {where}", "stem", kind))
        if kind in scene.symbols:
            other = f"; {_OTHER}" if is_post(kind) and scene.turned else ""
            words = _stitch_words(scene, kind) + _known(scene.symbols[kind].evidence) + other
            said.append(Entry(words, "mark", kind))
    other = f"; {_OTHER}" if scene.turned else ""
    for loop in loops:
        mark = symbol_marks().get(f"{loop}_loop")
        known = _known(mark.evidence) if mark is not None else ""
        said.append(Entry(f"worked in the {loop} loop only{known}{other}", "loop", loop))
    if scene.boxed:
        said.append(Entry(f"the repeat: {scene.region.repeat} stitches, worked {scene.region.times} times", "box"))
    if any(label != UNNAMED and not scene.setting.yarns[label].given for label in scene.labels):
        colours = f"{scene.setting.colour_word}s"
        said.append(Entry(f"tints stand for {colours} that the pattern gives no value for", "tint"))
    return tuple(said)


def place(
    lines: tuple[Entry, ...], left: Fraction, top: Fraction, width: Fraction
) -> tuple[tuple[Placed, ...], Fraction]:
    """Where every line stands, in as many columns as there is room for, and where the lowest ends."""
    columns = max(1, int(width // _COLUMN))
    column_width = width / columns
    broken = [(entry, tuple(lines_of(entry.words, column_width - _INDENT - 3, _TYPE))) for entry in lines]
    each = -(-len(broken) // columns) or 1
    placed: list[Placed] = []
    lowest = top
    y = top
    for at, (entry, words) in enumerate(broken):
        column, number = divmod(at, each)
        y = top if number == 0 else y
        placed.append(Placed(entry, (left + column * column_width, y), words))
        y += max(len(words) * _TYPE * _LEAD, _height(entry) + 1) + Fraction(3, 2)
        lowest = max(lowest, y)
    return tuple(placed), lowest


def write(pen: Pen, scene: Scene, placed: tuple[Placed, ...]) -> None:
    """Draws the key."""
    with pen.group("Key"):
        for one in placed:
            x, y = one.corner
            _picture(pen, scene, one.entry, x, y)
            # Words stand at the middle of the box, or begin at its top where they are many.
            lower = (_height(one.entry) - _BOX_HEIGHT - (len(one.lines) - 1) * _TYPE * _LEAD) / 2
            base = y + Fraction(37, 10) + max(Fraction(0), lower)
            for line in one.lines:
                pen.text((x + _INDENT, base), line, _TYPE, scene.look.ink)
                base += _TYPE * _LEAD


def _height(entry: Entry) -> Fraction:
    """The height of the box before an entry."""
    return _TALL_BOX if entry.what == "mark" else _BOX_HEIGHT


def _known(evidence: str) -> str:
    """What is said behind a name of how well its symbol is known."""
    return f"; {_KNOWN[evidence]}" if evidence in _KNOWN else ""


def _stitch_words(scene: Scene, kind: str) -> str:
    short, full = scene.setting.name(kind), scene.setting.explained.get(kind, "")
    return f"{short} ({full})" if full and full != short else short


def _picture(pen: Pen, scene: Scene, entry: Entry, x: Fraction, y: Fraction) -> None:
    look = scene.look
    edge = Paint(stroke=look.soft, width=Fraction(1, 4))
    middle = (x + _BOX_WIDTH / 2, y + _BOX_HEIGHT / 2)
    if entry.what == "yarn":
        yarn = scene.setting.yarns[entry.about]
        pen.rectangle((x, y), _BOX_WIDTH, _BOX_HEIGHT, Paint(yarn.colour, look.soft, Fraction(1, 4)))
        if yarn.letter:
            base = (middle[0], y + Fraction(37, 10))
            size = Fraction(18, 5) * narrowing(yarn.letter)
            pen.text(base, yarn.letter, size, readable(yarn.colour, look), anchor="middle", role="letter")
    elif entry.what == "stem":
        colour = next(scene.colour(cell, 0) for cells in scene.rows for cell in cells if _is(cell, entry.about))
        ink = readable(colour, look)
        pen.rectangle((x, y - 1), _BOX_WIDTH, 2, Paint(colour, look.soft, Fraction(1, 4)))
        for path in tongue(middle[0], y + 1, y + 6, Fraction(7), colour, look.soft):
            pen.path(path)
        pen.disc((middle[0], y + Fraction(53, 10)), Fraction(9, 20), Paint(fill=ink))
    elif entry.what == "tint":
        tints = [scene.setting.yarns[label] for label in scene.labels if not scene.setting.yarns[label].given][:4]
        for at, yarn in enumerate(tints):
            centre = (x + _BOX_WIDTH * Fraction(2 * at + 1, 2 * len(tints)), middle[1])
            pen.disc(centre, Fraction(1), Paint(yarn.colour, look.soft, Fraction(1, 4)))
    elif entry.what == "box":
        pen.rectangle((x, y), _BOX_WIDTH, _BOX_HEIGHT, Paint(stroke=look.madder, width=Fraction(3, 5)))
    elif entry.what == "mark":
        pen.rectangle((x, y), _BOX_WIDTH, _TALL_BOX, edge)
        strokes = scene.symbols[entry.about].strokes
        mark = stitch_mark(f"{entry.about} in the key", strokes, _BOX_WIDTH - 2, _TALL_BOX - 2, Fraction(9, 2))
        pen.use(mark, (middle[0], y + _TALL_BOX / 2), look.ink)
    else:
        pen.rectangle((x, y), _BOX_WIDTH, _BOX_HEIGHT, edge)
        if entry.what == "loop":
            pen.use(loop_mark(entry.about), (middle[0], y + Fraction(39, 10)), look.ink)


def narrowing(letter: str) -> Fraction:
    """How much smaller the letter of a yarn is set so that labels of two and three letters fit into a cell."""
    return Fraction(1) if len(letter) < 2 else Fraction(3, 4) if len(letter) == 2 else Fraction(14, 25)


def _is(cell: Cell, kind: str) -> bool:
    return cell.is_long and cell.kind == kind
