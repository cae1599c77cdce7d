"""Stitches that a pattern defines for itself, read to a recipe, a group, or a depth.

`Long sc: insert hook in top of st 3 rnds below, draw up a loop, yo, pull through 2 loops` is a recipe and a depth;
`Shell: 5 dc in same st` is a group.
"""

from __future__ import annotations

from fractions import Fraction

import msgspec

from roundhand.findings import Span
from roundhand.notation.clauses import read_clauses
from roundhand.notation.cursor import Cursor
from roundhand.notation.places import read_below
from roundhand.notation.tokens import Lexicon, understand
from roundhand.notation.tree import Definition, Times, Work
from roundhand.stitches import Operation, Stitch, closes, dictionary, needed_to_close

_OPS = {"yarn_over": "yarn over", "insert": "insert", "draw_up": "draw up", "pull_through": "pull through"}


def read_definition(
    name: str, text: str, start: int, end: int, lexicon: Lexicon, names: tuple[str, ...], span: Span
) -> Definition:
    """The definition of a stitch: its words stand from `start` to `end` of the text."""
    tokens = understand(text, start, end, lexicon)
    cursor = Cursor(text, tokens, lexicon, names, tuple(range(len(names))))
    below = _depth(cursor)
    known = _known(name, lexicon)
    cursor.position = 0
    recipe, lacking = _recipe(cursor)
    # A plain stitch keeps its meaning; how many stitches a shell or a puff has is the pattern's to say.
    plain = known is not None and known.id == known.family
    if known is not None and ((plain and recipe == ()) or known.place != "both loops"):
        return Definition(name, span, known, below, (), lacking)
    if recipe:
        return Definition(name, span, _stitch(name, recipe, below, known), below, (), lacking)
    cursor.position = 0
    nodes, _ = read_clauses(cursor)
    works = [node for node in nodes if isinstance(node, Work)]
    items = tuple(item for work in works for item in work.group)
    single = len(works) == 1 and len(items) == 1 and items[0].stitch and items[0].amount.values == (1,)
    if known is not None and (single or not items):
        return Definition(name, span, known, below)
    if single:
        stitch = dictionary()[items[0].stitch]
        if works[0].into.below is not None:
            below = works[0].into.below.at(0) or below
        if below > 1 and f"long_{stitch.id}" in dictionary():
            stitch = dictionary()[f"long_{stitch.id}"]
        return Definition(name, span, stitch, below)
    if len(works) == 1 and items:
        return Definition(name, span, None, below, items)
    if any(isinstance(node, Times) for node in nodes) or works:
        return Definition(name, span, None, below, items)
    return Definition(name, span, known, below)


def _known(name: str, lexicon: Lexicon) -> Stitch | None:
    """The stitch that the trade knows under this name, or None."""
    found = lexicon.words.find(name.lower().split(), 0) if name.split() else None
    if found is not None and found.kind == "stitch" and found.length == len(name.split()):
        return dictionary()[found.value]
    return None


def _depth(cursor: Cursor) -> int:
    """How many rows lower the words send the hook, 0 where they say nothing."""
    while cursor.position < cursor.end:
        below = read_below(cursor)
        if below is not None:
            return below.at(0) or 0
        cursor.position += 1
    return 0


def _recipe(cursor: Cursor) -> tuple[tuple[Operation, ...], int | None]:
    """The movements of the hook that the words name, and the pull-through that would close them if they stay open."""
    operations: list[Operation] = []
    _operations(cursor, cursor.end, operations)
    if not any(one.act == "insert" for one in operations) or not any(one.act == "pull through" for one in operations):
        return (), None
    recipe = tuple(operations)
    return recipe, None if closes(recipe) else (needed_to_close(recipe) or 0)


def _operations(cursor: Cursor, end: int, out: list[Operation]) -> None:
    while cursor.position < end:
        token = cursor.take()
        if token.kind == "mark" and token.text in "([{":
            close = cursor.closing(cursor.position - 1)
            if close is None or close > end:
                continue
            inner: list[Operation] = []
            _operations(cursor, close, inner)
            cursor.position = close + 1
            times = cursor.times()
            out += inner * ((times[1].at(0) or 1) if times is not None else 1)
        elif token.kind == "word" and token.value == "yarn_over":
            times = cursor.times()
            wraps = (times[1].at(0) or 1) if times is not None else 1
            if _next_act(cursor, end) in ("insert", "yarn_over"):
                out += [Operation("yarn over")] * wraps
        elif token.kind == "word" and token.value in ("insert", "draw_up"):
            out.append(Operation(_OPS[token.value]))
        elif token.kind == "word" and token.value == "pull_through":
            out.append(Operation("pull through", _loops_named(cursor, out)))


def _next_act(cursor: Cursor, end: int) -> str:
    for token in cursor.tokens[cursor.position : end]:
        if token.kind == "word" and token.value in _OPS:
            return token.value
    return ""


def _loops_named(cursor: Cursor, before: list[Operation]) -> int:
    """`2 loops`, `both loops`, `all loops on hook`: how many loops a pull-through takes."""
    on_hook = 1
    for one in before:
        on_hook += 1 if one.act in ("yarn over", "draw up") else 0
        on_hook -= one.loops - 1 if one.act == "pull through" else 0
    for _ in range(4):
        token = cursor.token
        if token is None or token.kind == "mark":
            break
        cursor.position += 1
        if token.kind == "number" and token.number is not None:
            return token.number
        if token.value == "both_loops" or token.text.lower() == "both":
            return 2
        if token.text.lower() in ("all", "remaining", "rem"):
            number = cursor.token
            if number is not None and number.kind == "number" and number.number is not None:
                return number.number
            return on_hook
    return 1


def _stitch(name: str, recipe: tuple[Operation, ...], below: int, known: Stitch | None) -> Stitch:
    """The stitch with this recipe: one of the dictionary, its long form, or one of the pattern's own."""
    bare = tuple((one.act, one.loops) for one in recipe)
    for stitch in dictionary().values():
        same = tuple((one.act, one.loops) for one in stitch.recipe) == bare
        if same and stitch.place == "both loops" and stitch.id == stitch.family:
            if below > 1 and f"long_{stitch.id}" in dictionary():
                return dictionary()[f"long_{stitch.id}"]
            return stitch
    if known is not None and (known.id == known.family or bare == tuple((one.act, one.loops) for one in known.recipe)):
        return known
    if known is not None:
        # The trade knows the name, and the page says how this one is worked.
        return msgspec.structs.replace(known, recipe=recipe, source="defined in the pattern", evidence="ours")
    base = dictionary()["single"]
    pulls = sum(one.act == "pull through" for one in recipe)
    return msgspec.structs.replace(
        base,
        id="_".join(name.lower().split()) or "own_stitch",
        family="_".join(name.lower().split()) or "own_stitch",
        recipe=recipe,
        height_chains=Fraction(max(1, pulls)),
        height=Fraction(max(1, pulls)),
        source="defined in the pattern",
        evidence="ours",
    )
