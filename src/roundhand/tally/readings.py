"""Phrases with two readings: which there are in a row, what the notes settle, and what is usual.

The order of evidence is DESIGN's: what the notes say, stated counts in every size, later counts, the pattern's own
habit, usage.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import product

from roundhand.notation.tree import Chain, CountNote, Evenly, Join, Node, Times, Work
from roundhand.stitches import dictionary
from roundhand.tally.expand import Instance
from roundhand.tally.model import Choice

_MOST = 64


def chain_rules(instances: Iterable[Instance], notes: Iterable[CountNote]) -> dict[int, bool]:
    """What the text says of turning chains: by number of chains (0: all of them), whether they count."""
    rules: dict[int, bool] = {}
    for note in notes:
        rules.setdefault(note.chains, note.counts)
    seen: set[int] = set()
    for instance in instances:
        if id(instance.line) in seen:
            continue
        seen.add(id(instance.line))
        for node in instance.line.nodes:
            if isinstance(node, Chain) and node.counts is not None and node.throughout:
                number = node.amount.values[0] or 0
                rules.setdefault(number, node.counts)
    return rules


def choices_of(nodes: tuple[Node, ...], kind: str, rules: Mapping[int, bool]) -> tuple[Choice, ...]:
    """The choices of a row, each with its usual reading first."""
    found: list[Choice] = []
    leading = next((node for node in nodes if isinstance(node, Work | Times | Chain | Evenly)), None)
    if isinstance(leading, Chain) and leading.counts is None:
        number = leading.amount.values[0] or 0
        if number >= 2 and number not in rules and 0 not in rules:
            target = next((node.target for node in nodes if isinstance(node, Join)), "")
            counted = target == "chain" or (number >= 3 and target != "stitch")
            found.append(Choice("turning chain", leading.span, _order(counted)))
    for node in _walk(nodes):
        if isinstance(node, Times) and node.mode == "unsaid":
            found.append(Choice("repeat times", node.words, ("more", "in all")))
        elif isinstance(node, Work) and node.into.kind == "from_hook":
            hook = _hook_choice(node, nodes)
            if hook is not None:
                found.append(hook)
    return tuple(found[:6])


def _hook_choice(node: Work, nodes: tuple[Node, ...]) -> Choice | None:
    """Chains skipped at the start of a foundation: three before a double usually stand for one."""
    nth = (node.into.count.values[0] if node.into.count is not None else 1) or 1
    stitch = dictionary().get(node.group[0].stitch) if node.group else None
    if stitch is None or stitch.turning_chain is None or nth < 3 or nth - 1 < stitch.turning_chain:
        return None
    if any(isinstance(other, Chain) and other.counts is not None and other.amount.values == (0,) for other in nodes):
        return None
    counted = bool(stitch.turning_chain_counts)
    return Choice("skipped chain", node.span, _order(counted))


def said_of_hook(nodes: tuple[Node, ...]) -> dict[int, str]:
    """What an aside says of chains skipped at the start: `(3 skipped ch count as dc)`."""
    said = next((n.counts for n in nodes if isinstance(n, Chain) and n.amount.values == (0,) and n.counts is not None), None)
    if said is None:
        return {}
    work = next((n for n in nodes if isinstance(n, Work) and n.into.kind == "from_hook"), None)
    return {work.span.start: "counts" if said else "does not count"} if work is not None else {}


def _order(counted: bool) -> tuple[str, ...]:
    return ("counts", "does not count") if counted else ("does not count", "counts")


def _walk(nodes: tuple[Node, ...]) -> Iterator[Node]:
    for node in nodes:
        yield node
        if isinstance(node, Times):
            yield from _walk(node.body)


def combinations(choices: tuple[Choice, ...], habits: Mapping[str, str]) -> list[dict[int, str]]:
    """All ways to read a row, the pattern's habit first, then usage; at most 64."""
    ordered = []
    for choice in choices:
        habit = habits.get(habit_key(choice))
        readings = choice.readings
        if habit in readings:
            readings = (habit, *(reading for reading in readings if reading != habit))
        ordered.append([(choice.span.start, reading) for reading in readings])
    ways = []
    for way in product(*ordered):
        ways.append(dict(way))
        if len(ways) >= _MOST:
            break
    # The fewest departures from the habit first.
    base = ways[0]
    return sorted(ways, key=lambda way: sum(way[key] != base[key] for key in base))


def habit_key(choice: Choice) -> str:
    """What kind of phrase a habit is about."""
    return choice.kind
