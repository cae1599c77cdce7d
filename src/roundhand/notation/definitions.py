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
from roundhand.notation.movements import read_movements
from roundhand.notation.places import read_below
from roundhand.notation.settling import Movements
from roundhand.notation.tokens import Lexicon, understand
from roundhand.notation.tree import Amount, Chain, Definition, Item, Node, Place, Skip, Times, Work
from roundhand.stitches import Operation, Stitch, dictionary

# A definition is no longer than this; what comes behind is talk.
_LONGEST = 3000
_MOST_TIMES = 50
_LOCK = (Operation("pull through", 1),)


def read_definition(
    name: str, text: str, start: int, end: int, lexicon: Lexicon, names: tuple[str, ...], span: Span
) -> Definition:
    """The definition of a stitch: its words stand from `start` to `end` of the text."""
    end = min(end, start + _LONGEST)
    tokens = understand(text, start, end, lexicon)
    cursor = Cursor(text, tokens, lexicon, names, tuple(range(len(names))))
    below = _depth(cursor)
    known = _known(name, lexicon)
    said = read_movements(text[start:end], lexicon.words, name)
    if said.hook and _is_recipe(said):
        stitch = _stitch(name, said, below, known)
        return Definition(name, span, stitch, below, (), said.lacking, (), stitch.uses, stitch.makes)
    cursor.position = 0
    nodes = [node for node in read_clauses(cursor)[0] if isinstance(node, Work | Chain | Skip | Times)]
    return _group(name, span, tuple(nodes), below, known)


def _known(name: str, lexicon: Lexicon) -> Stitch | None:
    """The stitch that the trade knows under this name, or None."""
    words = [token.value for token in understand(name, 0, len(name), msgspec.structs.replace(lexicon, defined={}))]
    if len(words) == 1 and words[0] in dictionary():
        return dictionary()[words[0]]
    return None


def _depth(cursor: Cursor) -> int:
    """How many rows lower the words send the hook, 0 where they say nothing."""
    while cursor.position < cursor.end:
        below = read_below(cursor)
        if below is not None:
            return below.at(0) or 0
        cursor.position += 1
    return 0


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


# Groups.


def _group(name: str, span: Span, nodes: tuple[Node, ...], below: int, known: Stitch | None) -> Definition:
    """What whole stitches come to: one stitch, a group in one place, or a group over several."""
    works = [node for node in nodes if isinstance(node, Work)]
    if len(nodes) == 1 and works:
        items = works[0].group
        if works[0].into.count is not None and len(items) == 1 and items[0].amount.values == (1,):
            items = (msgspec.structs.replace(items[0], amount=works[0].into.count),)
        single = len(items) == 1 and items[0].stitch and items[0].amount.values == (1,)
        if single and known is not None and known.id != items[0].stitch:
            return Definition(name, span, known, below)
        if single:
            return _one_stitch(name, span, items[0], works[0].into, below)
        return Definition(name, span, None, below, items, None, (), 1, _makes(items))
    one = _in_one_place(nodes)
    if one is not None:
        return Definition(name, span, None, below, one, None, (), 1, _makes(one))
    if works or any(isinstance(node, Times) for node in nodes):
        uses, makes = passes(nodes)
        return Definition(name, span, None, below, (), None, nodes, uses, makes)
    return Definition(name, span, known, below)


def _one_stitch(name: str, span: Span, item: Item, into: Place, below: int) -> Definition:
    stitch = dictionary()[item.stitch]
    if into.below is not None:
        below = into.below.at(0) or below
    if below > 1 and f"long_{stitch.id}" in dictionary():
        stitch = dictionary()[f"long_{stitch.id}"]
    return Definition(name, span, stitch, below)


def _in_one_place(nodes: tuple[Node, ...]) -> tuple[Item, ...] | None:
    """`dc, ch 1, dc in same st`, `ch 3, 2 dc in first st`: stitches in a row that all go into one place."""
    items: list[Item] = []
    works = [node for node in nodes if isinstance(node, Work)]
    if len(works) + sum(isinstance(node, Chain) for node in nodes) < len(nodes) or not works:
        return None
    last = works[-1].into
    first = True
    for node in nodes:
        if isinstance(node, Chain):
            items.append(Item("chain", node.amount, node.span))
            continue
        assert isinstance(node, Work)
        into = node.into
        if into.kind == "from_hook" or any(item.stitch == "slip_stitch" for item in node.group):
            return None
        said_nothing = into.kind == "next" and into.span in {item.span for item in node.group} | {_words(into)}
        alone = into.kind in ("same", "first", "ring") or (into.kind == "next" and _count(into) == 1)
        if node is not works[-1] and not first and into.kind != "same" and not said_nothing:
            return None
        if first and node is not works[-1] and not (alone or said_nothing):
            return None
        named = into.kind == "same" or (alone and len(works) == 1)
        if node is works[-1] and not named and (not alone or not all(_bare_place(work) for work in works[:-1])):
            # The last may name the place for all of them, where none of the others names one.
            return None
        if len(node.group) == 1 and into.count is not None and into.count.values != (1,) and _bare_place(node):
            items.append(msgspec.structs.replace(node.group[0], amount=into.count))
        else:
            items += node.group
        first = False
    return tuple(items) if last.kind in ("same", "next", "first", "ring") and _count(last) == 1 else None


def _words(place: Place) -> Span:
    return place.count.span if place.count is not None else place.span


def _bare_place(work: Work) -> bool:
    """Whether the words say no place for the stitches."""
    return work.into.bare or (work.into.kind == "next" and _words(work.into) == work.into.span)


def _count(place: Place) -> int:
    return 1 if place.count is None else place.count.at(0) or 1


def _makes(items: tuple[Item, ...]) -> int:
    return sum((item.amount.at(0) or 0) * _yield(item.stitch) for item in items)


def _yield(stitch: str) -> int:
    """Stitches that one leaves on top; chains are none."""
    if stitch == "chain":
        return 0
    known = dictionary().get(stitch)
    return known.makes if known is not None else 1


def passes(nodes: tuple[Node, ...]) -> tuple[int, int]:
    """Places that a body goes past, and the stitches that it makes."""
    uses = makes = skipped = 0
    chained = False
    for node in nodes:
        if isinstance(node, Skip):
            amount = node.amount.at(0) or 0
            uses += amount
            skipped += amount
        elif isinstance(node, Times):
            used, made = passes(node.body)
            times = min((node.amount.at(0) or 1) if node.amount is not None else 1, _MOST_TIMES)
            uses += used * times
            makes += made * times
        elif isinstance(node, Chain):
            chained = True
        elif isinstance(node, Work):
            used, made = _passes(node, chained, skipped)
            uses += used
            makes += made
            chained = False
            skipped = 0 if node.into.what == "skipped" else skipped
    return uses, makes


def _passes(node: Work, chained: bool, skipped: int) -> tuple[int, int]:
    place = node.into
    number = _count(place)
    if chained and all(item.stitch == "slip_stitch" for item in node.group):
        # A chain closed on itself, a picot, is no stitch.
        return 0, 0
    made = _makes(node.group)
    if place.kind in ("next", "each", "nth"):
        if place.what == "skipped" and skipped:
            return 0, made * number
        uses = max((dictionary()[item.stitch].uses for item in node.group if item.stitch in dictionary()), default=1)
        return max(uses, 1) * number, made * number
    return 0, made


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
                _count(node.into),
            )
        elif isinstance(node, Chain | Skip):
            yield type(node).__name__, node.amount.values
        elif isinstance(node, Times):
            amount: Amount | None = node.amount
            yield tuple(_node_essence(node.body)), amount.values if amount is not None else None
