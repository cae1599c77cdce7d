"""Every row of every size counted, with one reading chosen for every phrase that has two, and the evidence for it."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from roundhand.findings import Finding
from roundhand.notation.tree import (
    Chain,
    Evenly,
    Node,
    Pattern,
    Ring,
    Stated,
    Step,
    Times,
    Work,
    Yarn,
)
from roundhand.tally.expand import Body, Instance, Section, expand
from roundhand.tally.hand import Hand
from roundhand.tally.model import (
    Block,
    Choice,
    Chosen,
    Offer,
    PieceTally,
    RowTally,
    Run,
    StepTally,
    Tally,
    Worked,
    YarnEvent,
    flat,
)
from roundhand.tally.readings import chain_rules, choices_of, combinations, habit_key, said_of_hook

_LOOK_AHEAD = 8
_NOTHING = Offer("none")


def count(pattern: Pattern) -> tuple[Tally, list[Finding]]:
    """The tally of a pattern and the findings on its ranges, references and readings.

    >>> from roundhand.notation import read
    >>> pattern, _ = read("Cap\\n\\nRnd 1: 6 sc in a magic ring. (6)\\nRnd 2: inc in each st around. (12)")
    >>> tally, findings = count(pattern)
    >>> [row.worked for row in tally.rows()], findings
    ([(6,), (12,)], [])
    """
    sections, findings = expand(pattern.parts, pattern.sizes)
    counter = _Counter(pattern, sections)
    pieces = counter.pieces()
    return Tally(pattern, tuple(pieces)), findings + counter.findings


class _Place(msgspec.Struct):
    """Where a size stands while its piece is worked."""

    offer: Offer = _NOTHING
    colour: str = ""
    depth: int = 0
    foundation: Offer = _NOTHING


class _Counter:
    def __init__(self, pattern: Pattern, sections: list[Section]) -> None:
        self.pattern = pattern
        self.sections = sections
        self.sizes = len(pattern.sizes)
        self.findings: list[Finding] = []
        instances = [row for section in sections for row in section.rows]
        self.rules = chain_rules(instances, pattern.count_notes)
        self.habits: dict[str, str] = {}
        self.votes: dict[str, dict[str, int]] = {}
        self.known: dict[tuple[int, Offer, str, int, int, tuple[tuple[int, str], ...]], Worked | None] = {}
        self.listed: dict[int, bool] = {}
        self.kept: list[Body] = []
        self.choices: dict[int, tuple[Choice, ...]] = {}
        labels = [yarn.label for yarn in pattern.yarns if yarn.label]
        self.first_colour = labels[0] if labels else ""

    def pieces(self) -> list[PieceTally]:
        """Settles the habits from the rows whose counts are stated, then counts."""
        if any(self._choices(row) for section in self.sections for row in section.rows):
            self._walk(settle=True)
            for kind, votes in self.votes.items():
                self.habits[kind] = max(votes, key=lambda reading: votes[reading])
        return self._walk(settle=False)

    # Choices.

    def _choices(self, row: Instance) -> tuple[Choice, ...]:
        body = next((nodes for nodes in row.bodies if nodes is not None), None)
        if body is None:
            return ()
        found = self.choices.get(id(body))
        if found is None:
            found = choices_of(body, row.kind, self.rules)
            self.choices[id(body)] = found
            self.kept.append(body)
        return found

    # The walk over the page.

    def _walk(self, settle: bool) -> list[PieceTally]:
        places = [_Place(colour=self.first_colour) for _ in range(self.sizes)]
        pieces: list[_PieceMaker] = []
        for section in self.sections:
            if not section.rows and not section.steps:
                continue
            lines = sorted(
                [(index, 0, step) for index, step in section.steps] + [(index, 1, row) for index, row in enumerate(section.rows)],
                key=lambda entry: (entry[0], entry[1]),
            )
            if not pieces or (section.rows and _begins_piece(section)):
                previous = pieces[-1] if pieces else None
                pieces.append(_PieceMaker(section.part.name, self.sizes, section.part.make))
                self._begin(places, previous, section)
            piece = pieces[-1]
            if section.part.name not in piece.parts:
                piece.parts.append(section.part.name)
            for at, (_, _, entry) in enumerate(lines):
                if isinstance(entry, Step):
                    self._step(entry, section, places, piece)
                else:
                    following = [other for _, _, other in lines[at + 1 :] if isinstance(other, Instance)]
                    self._row(entry, following, places, piece, settle)
        made = [piece.made() for piece in pieces]
        return [piece for piece in made if piece.rows or piece.steps]

    def _begin(self, places: list[_Place], previous: _PieceMaker | None, section: Section) -> None:
        """A new piece: nothing below it but, where it is worked along an edge, the row ends of the piece before."""
        along = _edge(section)
        for size, place in enumerate(places):
            rows = sum(row.labels[size] is not None for row in previous.rows) if previous is not None else 0
            if along == "row_ends" or along == "edge":
                place.offer = Offer("ends", rows)
            elif along == "chain":
                place.offer = Offer("row", place.foundation.total)
            elif along == "joined" and place.offer.kind == "row":
                pass
            else:
                place.offer = _NOTHING
            place.depth = 0

    # Steps.

    def _step(self, step: Step, section: Section, places: list[_Place], piece: _PieceMaker) -> None:
        results: list[Worked | None] = [None] * self.sizes
        for size, place in enumerate(places):
            if size not in step.sizes:
                continue
            if step.act == "seam":
                results[size] = self._seam(step, place, size)
            else:
                results[size] = self._start(step.nodes, place, size)
            self._events(step.nodes, place, size, piece, len(piece.rows) - 1)
        if any(result is not None for result in results):
            piece.steps.append(StepTally(step, section.part.name, tuple(results), len(piece.rows)))

    def _start(self, nodes: tuple[Node, ...], place: _Place, size: int) -> Worked | None:
        """A step that starts something: a chain, a ring, foundation stitches."""
        made: list[Run | Block] = []
        colour = place.colour
        for node in nodes:
            if isinstance(node, Yarn) and node.act in ("with", "join", "change") and node.colour and node.at is None:
                colour = node.colour if node.colour != "*" else colour
            if isinstance(node, Chain):
                amount = node.amount.at(size)
                if amount is not None and not made:
                    place.offer = Offer("chain", amount)
                    place.foundation = place.offer
                    place.depth = 0
                    made.append(Run("chain", amount, colour, node.span, counts=False))
            elif isinstance(node, Ring):
                chains = node.chains.at(size) if node.chains is not None else None
                place.offer = Offer("ring", chains or 0)
                place.depth = 0
            elif isinstance(node, Work) and _is_foundation(node):
                worked = self._work((node,), Offer("ring"), size, colour, {}, 0)
                if worked is not None:
                    place.offer = worked.offer
                    place.depth = 0
                    made += worked.made
        place.colour = colour
        if not made:
            return None
        return Worked(tuple(made), 0, 0, 0, 0, place.offer)

    def _seam(self, step: Step, place: _Place, size: int) -> Worked | None:
        """Stitches of a seam: they join what is there and leave the work as it is."""
        worked = self._work(step.nodes, Offer("row", place.offer.total), size, place.colour, {}, 0)
        return worked if worked is not None and worked.made else None

    # Rows.

    def _row(
        self, row: Instance, following: list[Instance], places: list[_Place], piece: _PieceMaker, settle: bool
    ) -> None:
        for size, place in enumerate(places):
            self._row_start(row, place, size)
        stated, unit = self._stated(row)
        plain = stated if unit not in ("typed", "space", "chain", "other") else None
        readings, chosen = self._read(row, following, places, plain, settle)
        results: list[Worked | None] = []
        below: list[Offer | None] = []
        for size, place in enumerate(places):
            body = row.bodies[size] if row.labels[size] is not None else None
            below.append(place.offer if row.labels[size] is not None else None)
            worked = None
            if body is not None:
                worked = self._work(body, place.offer, size, place.colour, readings, place.depth)
            results.append(worked)
        if stated is not None and unit not in ("", "stitch"):
            stated = tuple(
                _by_unit(value, unit, row.stated, result, size)
                for size, (value, result) in enumerate(zip(stated, results, strict=True))
            )
        stands: list[str] = []
        for size, place in enumerate(places):
            if row.labels[size] is None:
                stands.append("")
                continue
            result, body = results[size], row.bodies[size]
            want = stated[size] if stated is not None else None
            stands.append(self._stand(row, following, place, size, result, want))
            self._go_on(place, result, want, stands[-1])
            if result is not None:
                for colour in result.colours:
                    piece.events[size].append(YarnEvent("use", colour, len(piece.rows), row.line.label.span))
            if body is not None:
                self._events(body, place, size, piece, len(piece.rows))
        if not any(label is not None for label in row.labels):
            return
        piece.rows.append(
            RowTally(
                row.part,
                row.kind,
                row.line,
                row.index,
                row.labels,
                tuple(results),
                stated or (None,) * self.sizes,
                row.stated if stated is not None else None,
                tuple(stands),
                chosen,
                row.copied,
                row.bodies,
                unit,
                tuple(below),
            )
        )

    def _row_start(self, row: Instance, place: _Place, size: int) -> None:
        """What a row does before its first stitch: a foundation chain or a ring made in the row itself."""
        body = row.bodies[size]
        if body is None:
            return
        first = next((node for node in body if isinstance(node, Chain | Ring | Work | Times | Evenly)), None)
        if isinstance(first, Ring) or (
            isinstance(first, Work) and first.into.kind == "ring" and place.offer.kind != "ring"
        ):
            chains = first.chains.at(size) if isinstance(first, Ring) and first.chains is not None else None
            place.offer = Offer("ring", chains or 0)
            place.depth = 0
        elif isinstance(first, Chain) and place.offer.kind in ("none", "chain", "ring"):
            hook = next((node for node in body if isinstance(node, Work)), None)
            ring = next((node for node in body if isinstance(node, Ring)), None)
            amount = first.amount.at(size)
            if ring is not None:
                place.offer = Offer("ring", amount or 0)
                place.depth = 0
            elif hook is not None and hook.into.kind == "from_hook" and amount is not None:
                place.offer = Offer("chain", amount)
                place.foundation = place.offer
                place.depth = 0
            elif place.offer.kind == "none" and hook is not None and hook.into.kind == "ring":
                place.offer = Offer("ring")
        elif isinstance(first, Work) and _is_foundation(first):
            place.offer = Offer("ring")
            place.depth = 0

    def _stated(self, row: Instance) -> tuple[tuple[int | None, ...] | None, str]:
        """The count that the text states for this row, in every size, and what it counts.

        A count after a range holds for its last row, and for every row if none changes it; which of the two is
        settled when the row has been worked, so here it is given to all rows of the range.
        """
        stated = row.stated
        if stated is None:
            return None, ""
        amount, unit = stated.counts[0]
        if len(stated.counts) > 1:
            unit = "typed"
        return tuple(
            amount.at(size) if row.labels[size] is not None else None for size in range(self.sizes)
        ), unit

    def _work(
        self,
        body: tuple[Node, ...],
        offer: Offer,
        size: int,
        colour: str,
        readings: Mapping[int, str],
        depth: int,
        overrides: Mapping[int, int] | None = None,
    ) -> Worked | None:
        """One row in one size; what was worked before in the same way is not worked again."""
        if overrides:
            return Hand(offer, size, colour, readings, self.pattern.definitions, depth, overrides).work(body)
        listed = self.listed.get(id(body))
        if listed is None:
            listed = _has_lists(body)
            self.listed[id(body)] = listed
            self.kept.append(body)
        key = (id(body), offer, colour, size if listed else -1, min(depth, 20), tuple(readings.items()))
        if key in self.known:
            return self.known[key]
        first = next((node for node in body if isinstance(node, Chain | Work | Times | Evenly)), None)
        foundation = isinstance(first, Chain) and offer.kind == "chain" and offer.total == first.amount.at(size)
        nodes = tuple(node for node in body if node is not first) if foundation and _works_from_hook(body) else body
        readings = {**self._rules(), **said_of_hook(body), **readings}
        worked = Hand(offer, size, colour, readings, self.pattern.definitions, depth).work(nodes)
        self.known[key] = worked
        return worked

    def _rules(self) -> dict[int, str]:
        """What the notes say of turning chains, by -2 less the number of chains."""
        said: dict[int, str] = {}
        for number in range(1, 9):
            rule = self.rules.get(number, self.rules.get(0))
            if rule is not None:
                said[-2 - number] = "counts" if rule else "does not count"
        return said

    # Readings.

    def _read(
        self,
        row: Instance,
        following: list[Instance],
        places: list[_Place],
        stated: tuple[int | None, ...] | None,
        settle: bool,
    ) -> tuple[dict[int, str], tuple[Chosen, ...]]:
        """The reading taken for every choice of a row, with the evidence."""
        choices = self._choices(row)
        cut = self._may_cut(row, places, stated)
        if not choices:
            return cut, ()
        ways = combinations(choices, self.habits)
        outcomes = [self._outcome(row, places, {**cut, **way}) for way in ways]
        usual = ways[0]
        if stated is not None:
            fits = [sum(w == s for w, s in zip(outcome, stated, strict=True) if s is not None) for outcome in outcomes]
            best = max(fits)
            wanted = sum(value is not None for value in stated)
            winners = [way for way, fit in zip(ways, fits, strict=True) if fit == best]
            if best == wanted and best > 0:
                if settle:
                    self._vote(choices, winners)
                way = winners[0]
                told = len({outcomes[at] for at, way_at in enumerate(ways) if way_at in winners}) < len(set(outcomes))
                return {**cut, **way}, tuple(
                    self._chosen(choice, way, ways, outcomes, "counts" if told else "habit") for choice in choices
                )
        if len(set(outcomes)) == 1:
            return {**cut, **usual}, tuple(self._chosen(choice, usual, ways, outcomes, "habit") for choice in choices)
        scores = [self._later(row, following, places, {**cut, **way}) for way in ways]
        best_at = max(range(len(ways)), key=lambda at: (scores[at], -at))
        later = scores[best_at] > min(scores)
        evidence = "later counts" if later else ("habit" if any(habit_key(c) in self.habits for c in choices) else "usage")
        way = ways[best_at]
        return {**cut, **way}, tuple(self._chosen(choice, way, ways, outcomes, evidence) for choice in choices)

    def _vote(self, choices: tuple[Choice, ...], winners: list[dict[int, str]]) -> None:
        for choice in choices:
            readings = {way[choice.span.start] for way in winners}
            if len(readings) == 1:
                votes = self.votes.setdefault(habit_key(choice), {})
                reading = readings.pop()
                votes[reading] = votes.get(reading, 0) + 1

    @staticmethod
    def _chosen(
        choice: Choice,
        way: Mapping[int, str],
        ways: list[dict[int, str]],
        outcomes: list[tuple[int | None, ...]],
        evidence: str,
    ) -> Chosen:
        """The choice with what each of its readings would come to, the other choices of the row as taken."""
        counts = {}
        for other, outcome in zip(ways, outcomes, strict=True):
            if all(other[key] == value for key, value in way.items() if key != choice.span.start):
                counts[other[choice.span.start]] = outcome
        return Chosen(choice, way[choice.span.start], evidence, counts)

    def _outcome(self, row: Instance, places: list[_Place], readings: dict[int, str]) -> tuple[int | None, ...]:
        found: list[int | None] = []
        for size, place in enumerate(places):
            body = row.bodies[size]
            worked = None
            if body is not None and row.labels[size] is not None:
                worked = self._work(body, place.offer, size, place.colour, readings, place.depth)
            found.append(None if worked is None else worked.count if not worked.lacking else -worked.count - 1)
        return tuple(found)

    def _may_cut(
        self, row: Instance, places: list[_Place], stated: tuple[int | None, ...] | None
    ) -> dict[int, str]:
        """`around` cut at the join: taken only where the stated counts tell it from a repeat that does not come out."""
        if stated is None:
            return {}
        readings: dict[int, str] = {}
        for size, place in enumerate(places):
            body = row.bodies[size]
            if body is None or row.labels[size] is None or stated[size] is None:
                continue
            rest = [node for node in body if isinstance(node, Times) and node.mode == "rest" and node.rest is None]
            if len(rest) != 1 or place.offer.kind != "row":
                continue
            whole = self._work(body, place.offer, size, place.colour, {}, place.depth)
            if whole is None or not whole.left_over or whole.count == stated[size]:
                continue
            key = -1 - rest[0].span.start
            cut = self._work(body, place.offer, size, place.colour, {key: "cut"}, place.depth)
            if cut is not None and not cut.left_over and cut.count == stated[size] and cut.count != cut.used:
                readings[key] = "cut"
        return readings

    # What the next row stands on.

    def _stand(
        self,
        row: Instance,
        following: list[Instance],
        place: _Place,
        size: int,
        result: Worked | None,
        stated: int | None,
    ) -> str:
        """`worked` or `stated`: whichever lets more of the next eight stated rows close; worked where neither does."""
        if result is None:
            return "stated" if stated is not None else "worked"
        if stated is None or stated == result.count:
            return "worked"
        if row.stated is not None and not row.last[size]:
            return "worked"
        by_worked = self._closing(following, result.offer, size, result.colour, place.depth + 1)
        by_stated = self._closing(
            following, Offer("row", stated, b"", 0, result.offer.main, result.offer.turning), size, result.colour, place.depth + 1
        )
        return "stated" if by_stated > by_worked else "worked"

    def _closing(self, following: list[Instance], offer: Offer, size: int, colour: str, depth: int) -> int:
        """How many of the next eight stated rows come out as stated when they are worked from an offer."""
        closed = seen = 0
        for row in following:
            body = row.bodies[size]
            if body is None or row.labels[size] is None:
                continue
            if offer.kind == "none" or _restarts(body):
                break
            readings = combinations(self._choices(row), self.habits)[0] if self._choices(row) else {}
            worked = self._work(body, offer, size, colour, readings, depth)
            if worked is None:
                break
            want = row.stated.counts[0][0].at(size) if row.stated is not None and len(row.stated.counts) == 1 else None
            if want is not None and row.last[size]:
                seen += 1
                closed += worked.count == want and not worked.left_over and not worked.lacking and not worked.left
                if seen >= _LOOK_AHEAD:
                    break
            elif worked.left_over or worked.lacking:
                closed -= 1
            offer = worked.offer
            depth += 1
        return closed

    def _later(
        self, row: Instance, following: list[Instance], places: list[_Place], readings: dict[int, str]
    ) -> int:
        """How well the later rows close when this row is read in one way, over all sizes."""
        score = 0
        for size, place in enumerate(places):
            body = row.bodies[size]
            if body is None or row.labels[size] is None:
                continue
            worked = self._work(body, place.offer, size, place.colour, readings, place.depth)
            if worked is None:
                continue
            score -= bool(worked.left_over) + bool(worked.lacking)
            score += self._closing(following, worked.offer, size, worked.colour, place.depth + 1)
        return score

    def _go_on(self, place: _Place, result: Worked | None, stated: int | None, stands: str) -> None:
        """Moves a size on to what the next row is worked from."""
        place.depth += 1
        if result is None:
            place.offer = Offer("row", stated) if stated is not None else place.offer
            return
        place.colour = result.colour or place.colour
        place.offer = result.offer
        if stands == "stated" and stated is not None:
            place.offer = Offer("row", stated, b"", 0, result.offer.main, result.offer.turning)

    def _events(self, nodes: tuple[Node, ...], place: _Place, size: int, piece: _PieceMaker, row: int) -> None:
        """Yarns changed, cut, carried or fastened off by a row or step."""
        for node in nodes:
            if not isinstance(node, Yarn):
                continue
            if node.act == "change" and node.colour:
                piece.events[size].append(YarnEvent("change", node.colour, row, node.span))
            elif node.act in ("cut", "fasten"):
                colour = node.colour or place.colour
                at = row
                if node.at is not None and node.at.at(size) is not None:
                    at = piece.row_of(node.at.at(size), size, row)
                if colour == "*":
                    for label in dict.fromkeys(event.colour for event in piece.events[size]):
                        piece.events[size].append(YarnEvent("cut", label, at, node.span))
                else:
                    piece.events[size].append(YarnEvent("fasten" if not node.colour else "cut", colour, at, node.span))
            elif node.act in ("carry", "drop", "keep"):
                piece.events[size].append(YarnEvent(node.act, node.colour, row, node.span))


class _PieceMaker:
    """A piece while it is being counted."""

    def __init__(self, name: str, sizes: int, make: int) -> None:
        self.name = name
        self.make = make
        self.parts: list[str] = []
        self.rows: list[RowTally] = []
        self.steps: list[StepTally] = []
        self.events: list[list[YarnEvent]] = [[] for _ in range(sizes)]

    def row_of(self, label: int | None, size: int, otherwise: int) -> int:
        """The position of the last row with a label."""
        for at in range(len(self.rows) - 1, -1, -1):
            if self.rows[at].labels[size] == label:
                return at
        return otherwise

    def made(self) -> PieceTally:
        """The piece as counted, stated counts kept only where they hold."""
        return PieceTally(
            self.name,
            tuple(self.parts),
            tuple(_range_counts(self.rows)),
            tuple(self.steps),
            tuple(tuple(events) for events in self.events),
            (),
            self.make,
        )


def _range_counts(rows: list[RowTally]) -> list[RowTally]:
    """A count after a range holds for its last row, and for every row if none changes the count."""
    kept: list[RowTally] = []
    groups: dict[int, list[RowTally]] = {}
    for row in rows:
        groups.setdefault(id(row.line), []).append(row)
    for row in rows:
        group = groups[id(row.line)]
        if len(group) == 1 or row.stated_by is None:
            kept.append(row)
            continue
        stated = []
        for size, value in enumerate(row.stated):
            counts = {other.worked[size] for other in group if other.labels[size] is not None}
            last = max((other.number for other in group if other.labels[size] is not None), default=0)
            stated.append(value if len(counts) == 1 or row.number == last else None)
        kept.append(msgspec.structs.replace(row, stated=tuple(stated)))
    return kept


def _by_unit(value: int | None, unit: str, stated: Stated | None, result: Worked | None, size: int) -> int | None:
    """A count of one kind of stitch, or of several, as the total it stands for: what is not counted is added.

    `(54 hdc)` on a round of hdc is its total. `(12 dc, 4 ch-2 sps)` is twelve stitches; where the row holds other
    stitches that the count leaves out they are not held against it.
    """
    if value is None or result is None or stated is None:
        return value
    made: dict[str, int] = {}
    for run in flat(result.made):
        if run.counts:
            made[run.stitch] = made.get(run.stitch, 0) + run.count
    if unit == "typed":
        total = 0
        for amount, kind in stated.counts:
            number = amount.at(size)
            if number is None:
                return None
            if kind not in ("space", "chain", "other"):
                total += number
        return total
    if unit in ("space", "chain", "other"):
        return None
    if value == result.count:
        return value
    own = made.get(unit, 0)
    if own == value and own != result.count:
        return result.count
    return value


def _begins_piece(section: Section) -> bool:
    """Whether a part is worked in a go of its own: its first row or step starts something."""
    return _edge(section) != ""


def _edge(section: Section) -> str:
    """What a part starts from: `chain`-like starts give `start`, an edge its name, a yarn joined anew `joined`."""
    for index, step in section.steps:
        if index > 0:
            break
        if step.act == "seam":
            continue
        for node in step.nodes:
            found = _starts(node)
            if found:
                return found
    if section.rows:
        body = next((nodes for nodes in section.rows[0].bodies if nodes is not None), ())
        chains = [node for node in body if isinstance(node, Chain)]
        for node in body:
            if isinstance(node, Chain):
                continue
            found = _starts(node)
            if found:
                return found
            if isinstance(node, Work) and node.into.kind == "from_hook" and chains:
                return "start"
    return ""


def _starts(node: Node) -> str:
    if isinstance(node, Chain | Ring):
        return "start"
    if isinstance(node, Evenly) and node.along != "row":
        return node.along
    if isinstance(node, Work):
        if node.into.kind == "ring" or _is_foundation(node):
            return "start"
        if node.into.kind == "row_ends" or node.into.what == "row_end":
            return "row_ends"
    if isinstance(node, Times):
        for inner in node.body:
            if isinstance(inner, Work) and (inner.into.kind == "row_ends" or inner.into.what == "row_end"):
                return "row_ends"
    if isinstance(node, Yarn) and node.act == "join":
        return "joined"
    return ""


def _restarts(body: tuple[Node, ...]) -> bool:
    return any(
        isinstance(node, Ring) or (isinstance(node, Work) and node.into.kind in ("ring", "from_hook")) for node in body
    )


def _is_foundation(node: Work) -> bool:
    return any(item.stitch.startswith("foundation_") for item in node.group)


def _works_from_hook(body: tuple[Node, ...]) -> bool:
    return any(isinstance(node, Work) and node.into.kind == "from_hook" for node in body)


def _has_lists(nodes: tuple[Node, ...]) -> bool:
    """Whether any number in the nodes differs by size."""
    for node in nodes:
        if isinstance(node, Times):
            amounts = (node.amount, node.rest)
            if _has_lists(node.body):
                return True
        elif isinstance(node, Work):
            amounts = (node.into.count, node.into.rest)
            if any(len(item.amount.values) > 1 for item in node.group) or (
                node.into.below is not None and len(node.into.below.values) > 1
            ):
                return True
        elif isinstance(node, Chain | Evenly) or hasattr(node, "amount"):
            amounts = (node.amount, None)
        else:
            continue
        if any(amount is not None and len(amount.values) > 1 for amount in amounts):
            return True
    return False
