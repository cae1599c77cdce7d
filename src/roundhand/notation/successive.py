"""Steps that have rows worked again one after the other: `Rep Rows 2-5 three more times, then Row 2 once.`"""

from __future__ import annotations

from itertools import pairwise

import msgspec

from roundhand.findings import Span
from roundhand.notation.tree import Copy, Step


def one_by_one(step: Step) -> list[Step]:
    """A step for each group of rows that is worked again, in order; the step alone where it names no more than one."""
    starts = [at for at, node in enumerate(step.nodes) if isinstance(node, Copy) and not (node.part or node.side)]
    if len(starts) < 2:
        return [step]
    cuts = [0, *starts[1:], len(step.nodes)]
    steps = []
    for first, stop in pairwise(cuts):
        begin = step.nodes[first].span.start if first else step.span.start
        end = step.nodes[stop].span.start if stop < len(step.nodes) else step.span.end
        stated = tuple(one for one in step.stated if begin <= one.span.start < end)
        steps.append(msgspec.structs.replace(step, nodes=step.nodes[first:stop], span=Span(begin, end), stated=stated))
    return steps
