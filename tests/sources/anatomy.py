"""Loop counts and heights of the standards: `stitch_recipes.csv` and the ladders of chains, singles and row ends."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from roundhand.stitches import Operation, dictionary, loops
from tests.sources.compare import Check, Value
from tests.sources.foundations import rows_of

# Turning chain rules by stitch (Japanese), toruyuri.com/2020/01/14/tatiagari; ronique.jp/?p=11963;
# kreativehaekelideen.de.
_CHAINS = {"slip_stitch": 0, "single": 1, "half_double": 2, "double": 3, "treble": 4, "double_treble": 5}
# Row-end counts and stitch heights, carol-mycrochetpage.blogspot.com/2009/09/picot-edging.html; half doubles: common
# practice.
_SINGLES = {"single": 1, "half_double": Fraction(3, 2), "double": 2, "treble": 3}


def checks() -> Iterator[Check]:
    """A check for every row of the list, and one for each ladder."""
    stitches = dictionary()
    for fact in rows_of("stitch_recipes.csv"):
        yield Check("Loops on the hook, heights", fact["source"], fact["id"], tuple(_of_row(fact)), True)
    yield Check(
        "Chains high",
        "Turning chain rules, toruyuri.com/2020/01/14/tatiagari; ronique.jp/?p=11963; kreativehaekelideen.de",
        "ladder of chains",
        tuple(
            Value(f"{id} {what}", chains, getattr(stitches[id], what))
            for id, chains in _CHAINS.items()
            for what in ("height_chains", "turning_chain")
        ),
    )
    yield Check(
        "Rows of singles high",
        "Row-end counts and stitch heights, carol-mycrochetpage.blogspot.com/2009/09/picot-edging.html",
        "ladder of singles",
        tuple(Value(id, high, stitches[id].height) for id, high in _SINGLES.items()),
    )


def most_loops(recipe: Sequence[Operation]) -> int:
    """The most that lies on the hook at once: loops, and strands of the work that the hook has entered, which lie on it
    until yarn is drawn through."""
    entered, most = 0, 1
    for operation, count in zip(recipe, loops(recipe), strict=True):
        entered = entered + 1 if operation.act == "insert" else 0
        most = max(most, count + entered)
    return most


def _way_out(recipe: Sequence[Operation]) -> tuple[Operation, ...]:
    """What is done of a Tunisian stitch before the way back."""
    return tuple(operation for operation in recipe if operation.where != "in return pass")


def _of_row(fact: dict[str, str]) -> Iterator[Value]:
    stitch = dictionary()[fact["id"]]
    if fact["peak"] == "N":
        for number in (2, 7, 30):
            yield Value(f"loops of {number} stitches", number, most_loops(_way_out(stitch.recipe) * (number - 1)))
    else:
        yield Value("most loops", int(fact["peak"]), most_loops(stitch.recipe))
    yield Value("loops at the end", 1, loops(stitch.recipe)[-1])
    yield Value("uses", int(fact["uses"]), stitch.uses)
    yield Value("makes", int(fact["makes"]), stitch.makes)
    for what in ("height_chains", "height"):
        low, *high = (Fraction(bound) for bound in fact[what].split("-"))
        own = getattr(stitch, what)
        yield Value(what, fact[what], fact[what] if low <= own <= (high or [low])[0] else str(own))
