"""Stitches that a pattern defines for itself, read to a recipe, a group, or a depth.

`Long sc: insert hook in top of st 3 rnds below, draw up a loop, yo, pull through 2 loops` is a recipe and a depth;
`Shell: 5 dc in same st` is a group in one place, `Cross st: skip 1, dc in next, dc in skipped st` one over several.
What a page says of a stitch holds for it, whatever the trade calls by that name.
"""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from roundhand.findings import Span
from roundhand.notation.clauses import read_clauses
from roundhand.notation.cursor import Cursor
from roundhand.notation.defined_groups import MEANT, closed, group_of
from roundhand.notation.depths import read_below, usual_depth
from roundhand.notation.movements import read_movements
from roundhand.notation.settling import Movements
from roundhand.notation.tokens import Lexicon, understand
from roundhand.notation.tree import Amount, Chain, Definition, Node, Skip, Times, Work
from roundhand.stitches import Operation, Stitch, dictionary

# A definition is no longer than this; what comes behind is talk.
_LONGEST = 3000
_LOCK = (Operation("pull through", 1),)


def read_definition(
    name: str, text: str, start: int, end: int, lexicon: Lexicon, names: tuple[str, ...], span: Span
) -> Definition:
    """The definition of a stitch: its words stand from `start` to `end` of the text."""
    end = min(end, start + _LONGEST)
    tokens = understand(text, start, end, lexicon)
    cursor = Cursor(text, tokens, lexicon, names, tuple(range(len(names))))
    deep, from_next = _depth(cursor)
    below = usual_depth(deep, from_next, deep.at(0) or 0) if deep is not None else 0
    known = _known(name, lexicon)
    said = read_movements(text[start:end], lexicon.words, name)
    if said.hook and _is_recipe(said):
        stitch = _stitch(name, said, below, known)
        found = Definition(name, span, stitch, below, (), said.lacking, (), stitch.uses, stitch.makes)
        return msgspec.structs.replace(found, deep=deep, from_next=from_next)
    cursor.position = 0
    nodes = closed([node for node in read_clauses(cursor)[0] if isinstance(node, MEANT)])
    return msgspec.structs.replace(group_of(name, span, tuple(nodes), below, known), deep=deep, from_next=from_next)


def _known(name: str, lexicon: Lexicon) -> Stitch | None:
    """The stitch that the trade knows under this name, or None."""
    words = [token.value for token in understand(name, 0, len(name), msgspec.structs.replace(lexicon, defined={}))]
    if len(words) == 1 and words[0] in dictionary():
        return dictionary()[words[0]]
    return None


def _depth(cursor: Cursor) -> tuple[Amount | None, bool]:
    """How many rows lower the words send the hook, None where they say nothing, and whether that is counted from the
    next stitch, "2 rows below next st"."""
    while cursor.position < cursor.end:
        below = read_below(cursor)
        if below is not None:
            lower = cursor.tokens[cursor.position - 1].value == "below"
            cursor.take_word("the", "of")
            return below, below.what == "below" and lower and cursor.word("next")
        cursor.position += 1
    return None, False


# Recipes.


def _is_recipe(said: Movements) -> bool:
    """Whether the movements are those of a stitch: the hook goes in, and loops come off it."""
    acts = {one.act for one in said.recipe}
    return "insert" in acts and bool(acts & {"pull through", "slip through", "pick up dropped loop"})


def _bare(recipe: tuple[Operation, ...]) -> tuple[tuple[str, int], ...]:
    return tuple((one.act, one.loops) for one in recipe)


def _placed(recipe: tuple[Operation, ...]) -> tuple[tuple[str, int, str], ...]:
    """A recipe without how its loops are drawn up, which names of stitches seldom depend on."""
    return tuple((one.act, one.loops, one.where if one.act == "insert" else "") for one in recipe)


def _stitch(name: str, said: Movements, below: int, known: Stitch | None) -> Stitch:
    """The stitch with this recipe: one of the dictionary, its long form, or one of the pattern's own."""
    alike = known is not None and (known.uses == said.uses or known.place != "both loops")
    if known is not None and ((alike and _bare(known.recipe) == _bare(said.recipe)) or said.lacking is not None):
        return known
    found = _same(said)
    if found is None and said.recipe[-1:] == _LOCK:
        # A chain that closes it off changes the stitch and not what it is called.
        bare = _same(said._replace(recipe=said.recipe[:-1]))
        if bare is not None and bare.id != bare.family:
            return _worked_so(bare, said)
    if found is not None:
        deep = f"long_{found.id}"
        return dictionary()[deep] if below > 1 and deep in dictionary() else found
    if known is not None and known.id == known.family:
        # A plain stitch keeps its meaning.
        return known
    if known is not None and known.uses == said.uses:
        # The trade knows the name, and the page says how this one is worked.
        return _worked_so(known, said)
    return _own(name, said)


def _worked_so(stitch: Stitch, said: Movements) -> Stitch:
    return msgspec.structs.replace(
        stitch, recipe=said.recipe, parts=(), source="defined in the pattern", evidence="ours"
    )


def _same(said: Movements) -> Stitch | None:
    """The stitch of the dictionary that is worked so: a plain one before its forms, a short name before a long one."""
    placed = _placed(said.recipe)
    same = [
        stitch
        for stitch in dictionary().values()
        if not stitch.parts and stitch.uses == said.uses and _placed(stitch.recipe) == placed
    ]
    return min(same, key=lambda stitch: (stitch.id != stitch.family, len(stitch.id), stitch.id), default=None)


def _own(name: str, said: Movements) -> Stitch:
    """A stitch that no dictionary has: as high as the plain stitch that its first leg begins."""
    family = dictionary()[_family(said.recipe)]
    id = "_".join("".join(letter if letter.isalnum() else " " for letter in name.lower()).split()) or "own_stitch"
    if id in dictionary():
        id = f"{id}_of_this_pattern"
    return msgspec.structs.replace(
        family,
        id=id,
        family=family.id,
        recipe=said.recipe,
        uses=said.uses,
        makes=1,
        place="both loops",
        turning_chain=None,
        turning_chain_counts=None,
        source="defined in the pattern",
        evidence="ours",
    )


def _family(recipe: tuple[Operation, ...]) -> str:
    """The plain stitch that the first leg begins: by its yarn overs, and by whether loops are worked off at once."""
    wraps = worked = 0
    drawn = False
    for one in recipe:
        if drawn and one.act in ("yarn over", "insert"):
            break
        wraps += one.act == "yarn over"
        drawn = drawn or one.act == "draw up"
        worked += one.act == "pull through" and one.loops == 2
    plain = ("single", "half_double", "treble", "double_treble", "triple_treble")
    if wraps == 1 and worked:
        return "double"
    return plain[min(wraps, 4)]


def differing(one: Definition, other: Definition) -> bool:
    """Whether two definitions of one name come to different stitches."""
    return _essence(one) != _essence(other)


def _essence(definition: Definition) -> object:
    stitch = (_bare(definition.stitch.recipe), definition.stitch.uses) if definition.stitch is not None else None
    items = tuple((item.stitch or item.alias, item.amount.values) for item in definition.group)
    return stitch, items, definition.below, tuple(_node_essence(definition.body))


def _node_essence(nodes: tuple[Node, ...]) -> Iterator[object]:
    for node in nodes:
        if isinstance(node, Work):
            yield (
                tuple((item.stitch or item.alias, item.amount.values) for item in node.group),
                node.into.kind,
                node.into.count.values if node.into.count is not None else (1,),
            )
        elif isinstance(node, Chain | Skip):
            yield type(node).__name__, node.amount.values
        elif isinstance(node, Times):
            amount: Amount | None = node.amount
            yield tuple(_node_essence(node.body)), amount.values if amount is not None else None
