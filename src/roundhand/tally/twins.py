"""Pieces worked as other pieces were, straight or in mirror image: their rows and steps written out once more."""

from __future__ import annotations

from roundhand.findings import Finding, Span
from roundhand.notation.tree import Copy, Label, Leave, Node, Part, Rejoin, RowLine, Stated, Step
from roundhand.tally.mirroring import mirrored
from roundhand.tally.other_yarns import in_other_yarns
from roundhand.tally.piecework import edge_of
from roundhand.tally.section import Body, Instance, Section

Steps = list[tuple[int, Step]]


class Twins:
    """The sections written out so far, by the names of their headings."""

    def __init__(self, sizes: int) -> None:
        self.sizes = sizes
        self.sections: list[Section] = []

    def add(self, section: Section) -> None:
        """A section has come to its end."""
        self.sections.append(section)

    def of(
        self,
        copy: Copy,
        step: Step,
        part: Part,
        rows: list[Instance],
        steps: Steps,
        sizes: tuple[str, ...],
        findings: list[Finding],
    ) -> tuple[list[Instance], Steps]:
        """The rows and steps that a line without a label has worked as others, with the places of the steps.

        `rows` and `steps` are those of the section so far."""
        if copy.side and not copy.part:
            source: list[Instance] = self._side(rows, steps, _rejoins(step.nodes))
            along: Steps = []
        else:
            source, along = self._piece(copy, step.sizes)
            if copy.side and rows:
                source, along = source[len(rows) :], []
        if not source:
            findings.append(_incomplete(copy, sizes, copy.part))
            return [], []
        source, along = self._changed(copy, source, along, sizes, findings)
        line = RowLine(Label(source[0].kind, copy.span), step.nodes, step.stated, step.span, step.sizes)
        stated = line.stated[-1] if line.stated else None
        made = [
            self._twin(row, copy, line, part, at, at == len(source) - 1, row.labels, stated)
            for at, row in enumerate(source)
        ]
        return made, along

    def under_label(
        self,
        copy: Copy,
        line: RowLine,
        part: Part,
        labels: list[list[int]],
        sizes: tuple[str, ...],
        findings: list[Finding],
    ) -> tuple[list[Instance], Steps]:
        """`Rows 1-20: work as for back`: the rows that a label has worked as those of another piece."""
        source, along = self._piece(copy, line.sizes) if copy.part else ([], [])
        if copy.first is None and copy.last is None:
            wanted = {number for numbers in labels for number in numbers}
            same = [row for row in source if any(label in wanted for label in row.labels)]
            begins = bool(same) and same[0] is source[0]
            source = same or source
        else:
            begins = any(number == 1 for numbers in labels for number in numbers[:1])
        length = max((len(numbers) for numbers in labels), default=0)
        if not source:
            findings.append(_incomplete(copy, sizes, copy.part))
            return [], []
        source, along = self._changed(copy, source, along, sizes, findings)
        stated = line.stated[-1] if line.stated else None
        made = []
        for index in range(length):
            row = source[index % len(source)]
            numbers = tuple(
                own[index] if index < len(own) and row.bodies[size] is not None else None
                for size, own in enumerate(labels)
            )
            made.append(self._twin(row, copy, line, part, index, index == length - 1, numbers, stated))
        # What stands before the first row of a piece, its chain or ring, is made again with it.
        return made, [(at, step) for at, step in along if at == 0] if begins else []

    def _changed(
        self, copy: Copy, rows: list[Instance], steps: Steps, sizes: tuple[str, ...], findings: list[Finding]
    ) -> tuple[list[Instance], Steps]:
        """The rows of a piece in the yarns that the words name; what they change besides is told."""
        dyed = in_other_yarns(rows, steps, copy.dyed, copy.span) if copy.dyed else (rows, steps)
        if copy.but is not None or dyed is None:
            findings.append(_not_followed(copy.but or copy.span, sizes, copy.part))
        return dyed if dyed is not None else (rows, steps)

    def _twin(
        self,
        row: Instance,
        copy: Copy,
        line: RowLine,
        part: Part,
        index: int,
        last: bool,
        labels: tuple[int | None, ...],
        stated: Stated | None,
    ) -> Instance:
        """One row worked as another was, in the sizes that the line is for."""
        own = tuple(label if size in line.sizes else None for size, label in enumerate(labels))
        bodies = tuple(body if own[size] is not None else None for size, body in enumerate(row.bodies))
        straight: tuple[Body | None, ...] = ()
        if copy.mirror:
            straight = bodies
            turned: dict[int, Body] = {}
            faced: list[Body | None] = []
            for body in bodies:
                if body is not None and id(body) not in turned:
                    turned[id(body)] = mirrored(_without_gap(body) if copy.side else body, self.sizes) or body
                faced.append(turned[id(body)] if body is not None else None)
            bodies = tuple(faced)
        return Instance(
            part.name, row.kind, line, index, own, bodies, stated, (last,) * self.sizes, copied=True, straight=straight
        )

    def _piece(self, copy: Copy, sizes: tuple[int, ...]) -> tuple[list[Instance], Steps]:
        """The rows and steps of a named piece: its own section, and those behind it that go on with it."""
        at = next((at for at, section in enumerate(self.sections) if _named(section.part.name, copy.part)), None)
        if at is None:
            return [], []
        rows: list[Instance] = []
        steps: Steps = []
        for section in self.sections[at:]:
            if rows and edge_of(section):
                break
            steps += [(len(rows) + place, step) for place, step in section.steps if step.act != "seam"]
            rows += section.rows
        if copy.last is None:
            kept = len(rows) - copy.short if copy.short else len(rows)
            return rows[:kept], [(place, step) for place, step in steps if place < kept or not copy.short]
        wanted = [row for row in rows if any(_within(row.labels[size], copy, size) for size in sizes)]
        kept = rows.index(wanted[-1]) + 1 if wanted else 0
        begins = rows.index(wanted[0]) if wanted else 0
        return wanted, [(place - begins, step) for place, step in steps if begins <= place < kept]

    def _side(self, rows: list[Instance], steps: Steps, here: bool) -> list[Instance]:
        """The rows of the side worked before, less those that the second side has already.

        The second side begins where the yarn was joined anew, in this section or at its head; the first one where a
        row left stitches, or at its own heading. `here` is true where the line itself joins the yarn."""
        joined = [at for at, step in steps if _rejoins(step.nodes)]
        joined += [at for at, row in enumerate(rows) if any(body and _rejoins(body) for body in row.bodies)]
        begins = len(rows) if here else max(joined, default=0)
        before = rows[:begins] if begins else [row for section in self.sections[-1:] for row in section.rows]
        done = len(rows) - begins
        if not begins and not self.sections:
            return []
        leaving = [at for at, row in enumerate(before) if any(body and _leaves(body) for body in row.bodies)]
        alone = [at for at, step in steps if at < begins and any(isinstance(node, Leave) for node in step.nodes)]
        first = max([*leaving[-1:], *alone[-1:]], default=0)
        if begins and not leaving and not alone:
            return []
        return before[first:][done:]


def _named(name: str, said: str) -> bool:
    """Whether a heading is the piece spoken of.

    >>> _named("Left Front", "left front"), _named("Sleeve", "SLEEVES"), _named("Back", "Left Front")
    (True, True, False)
    """
    mine, theirs = (" ".join(words.lower().split()) for words in (name, said))
    return mine == theirs or mine.removesuffix("s") == theirs.removesuffix("s") or mine.startswith(theirs + " (")


def _within(label: int | None, copy: Copy, size: int) -> bool:
    first = copy.first.at(size) if copy.first is not None else None
    last = copy.last.at(size) if copy.last is not None else None
    return label is not None and last is not None and (first is None or first <= label) and label <= last


def _rejoins(nodes: tuple[Node, ...]) -> bool:
    return any(isinstance(node, Rejoin) for node in nodes)


def _leaves(nodes: tuple[Node, ...]) -> bool:
    return any(isinstance(node, Leave) for node in nodes)


def _without_gap(body: Body) -> Body:
    """A row without what it leaves: where the yarn is joined behind the gap, nothing is left any more."""
    return tuple(node for node in body if not isinstance(node, Leave))


def _incomplete(copy: Copy, sizes: tuple[str, ...], name: str) -> Finding:
    """`reference-incomplete` where no piece has the name, or no side was worked before."""
    because = (
        f"no section above is called \u201c{name}\u201d, or it has no such rows"
        if name
        else "no stitches were left before for a second side, so there is no first one"
    )
    return Finding(
        "reference-incomplete",
        "error",
        f"there is no {name} to work from" if name else "there is no first side to work from",
        Span(copy.span.start, copy.span.end),
        sizes,
        because=because,
        help="name a section as its heading does, or write the rows out",
        facts={"section": name},
    )


def _not_followed(but: Span, sizes: tuple[str, ...], name: str) -> Finding:
    """`reference-incomplete` where a piece is worked as another with a change, which only a maker can follow."""
    return Finding(
        "reference-incomplete",
        "warning",
        "what is changed here was not worked",
        but,
        sizes,
        because=f"the rows of {name or 'the first side'} were worked once more as they stand there",
        help="write out the rows that differ, so that their counts can be worked",
        facts={"section": name},
        label="changes them",
    )
