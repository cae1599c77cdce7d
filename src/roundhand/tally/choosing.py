"""One reading chosen for every phrase that has two, with the evidence for it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from roundhand.notation.tree import DepthNote, Times
from roundhand.tally.depths import Ruled, depths
from roundhand.tally.entering import choices_entering
from roundhand.tally.how_often import ONE
from roundhand.tally.model import Choice, Chosen
from roundhand.tally.ones import KIND as ONES
from roundhand.tally.ones import Ones, choice_of_one
from roundhand.tally.readings import BEFORE, Ways, choices_of, choices_on, combinations
from roundhand.tally.section import Body, Instance
from roundhand.tally.standing import Standing, closing, laid_on
from roundhand.tally.working import Bench

# Readings against plain usage are taken only where the whole row comes out by them.
_AGAINST = ("with chains", "all in one", ONE)
# What one row does with stitches left before says nothing of the next.
_NO_HABIT = ("left stitches", ONES)
_Counts = tuple[int | None, ...]


class Chooser:
    """Settles the readings of rows. The first walk over a pattern gathers votes, from which its habits come."""

    def __init__(self, bench: Bench, rules: Mapping[int, bool], note: DepthNote | None = None) -> None:
        self.bench = bench
        self.rules = rules
        self.note = note
        self.habits: dict[str, str] = {}
        self.ones = Ones()
        self._votes: dict[str, dict[str, int]] = {}
        self._own: dict[int, tuple[Choice, ...]] = {}
        self._kept: list[Body] = []

    def own_choices(self, row: Instance) -> tuple[Choice, ...]:
        """The choices that the words of a row hold."""
        body = next((nodes for nodes in row.bodies if nodes is not None), None)
        if body is None:
            return ()
        found = self._own.get(id(body))
        if found is None:
            found = choices_of(body, self.rules)
            self._own[id(body)] = found
            self._kept.append(body)
        return found

    def usual(self, row: Instance) -> dict[int, str]:
        """The reading of a row by habit and usage alone."""
        choices = self.own_choices(row)
        return combinations(choices, self.habits)[0] if choices else {}

    def settle(self) -> bool:
        """Ends the first walk: what most rows with a deciding count chose becomes the pattern's habit. True where the
        pattern has to be walked again, now that it is known."""
        before = dict(self.habits)
        for kind, votes in self._votes.items():
            self.habits[kind] = max(votes, key=lambda reading: votes[reading])
        self._votes = {}
        again = self.ones.settle(self._outcome)
        return again or self.habits != before

    def read(
        self, row: Instance, following: Sequence[Instance], places: Sequence[Standing], stated: _Counts | None
    ) -> tuple[dict[int, str], tuple[Chosen, ...]]:
        """The reading taken for every choice of a row, with the evidence."""
        choices = self.own_choices(row)
        body = next((nodes for nodes in row.bodies if nodes is not None), None)
        if body is not None:
            below = tuple(place.offer for size, place in enumerate(places) if row.labels[size] is not None)
            choices += choices_on(body, below, self.rules, stated is not None)
            choices += choices_entering(body, below, stated is not None)
        cut = self._cut(row, places, stated) + self._depths(row, places)
        fixed = {chosen.choice.key: chosen.reading for chosen in cut}
        one = self._one(body, row, places) if body is not None and stated is not None else None
        if not choices and one is None:
            return fixed, cut
        ways = combinations(choices, self.habits) if choices else [{}]
        outcomes = [self._outcome(row, places, {**fixed, **way}) for way in ways]
        if one is not None and stated is not None and body is not None:
            at = next((at for at, outcome in enumerate(outcomes) if _fits(outcome, stated)), None)
            if at is not None and not self.ones.counts:
                self.ones.asks(row, places, {**fixed, **ways[at]}, one, stated)
            elif self.ones.open:
                more = combinations((*choices, one), self.habits)
                counted = [self._outcome(row, places, {**fixed, **way}) for way in more]
                if any(_fits(outcome, stated) for outcome in counted):
                    choices, ways, outcomes = (*choices, one), more, counted
        if not choices:
            return fixed, cut
        at, evidence = self._best(row, following, places, stated, ways, outcomes, choices, fixed)
        way = ways[at]
        if one is not None and body is not None and way.get(one.key) == "counts":
            whole, alone = {**fixed, **way}, {**fixed, **way, one.key: "does not count"}
            closes = self._closes(row, following, places, whole) > self._closes(row, following, places, alone)
            self.ones.speaks_for(body, closes)
        told = tuple(_chosen(choice, way, ways, outcomes, evidence[choice.key]) for choice in choices)
        return {**fixed, **way}, cut + told

    def _one(self, body: Body, row: Instance, places: Sequence[Standing]) -> Choice | None:
        """The choice that a silent chain of one leaves."""
        below = (place.offer for size, place in enumerate(places) if row.labels[size] is not None)
        return choice_of_one(body, below, self.rules, BEFORE)

    def _depths(self, row: Instance, places: Sequence[Standing]) -> tuple[Chosen, ...]:
        """The depth of long stitches, told by what lies below them."""
        found = tuple(depths(row, places, Ruled(self.bench.definitions, self.note, self.habits)))
        for chosen in found:
            if chosen.evidence not in ("notes", "habit", "usage"):
                votes = self._votes.setdefault(chosen.choice.kind, {})
                votes[chosen.reading] = votes.get(chosen.reading, 0) + 1
        return found

    def _best(
        self,
        row: Instance,
        following: Sequence[Instance],
        places: Sequence[Standing],
        stated: _Counts | None,
        ways: Ways,
        outcomes: list[_Counts],
        choices: tuple[Choice, ...],
        fixed: dict[int, str],
    ) -> tuple[int, dict[int, str]]:
        """The position of the best way to read the row, and what told each choice."""
        left = list(range(len(ways)))
        evidence = {choice.key: "habit" if choice.kind in self.habits else "usage" for choice in choices}
        if stated is not None:
            fits = [_fit(outcome, stated) for outcome in outcomes]
            best = max(fits)
            wanted = sum(value is not None for value in stated)
            # Counts decide where a reading meets them in every size; one wrong count among several is no evidence.
            if best == wanted and best > 0:
                left = [at for at in left if fits[at] == best]
                self._told(choices, ways, left, outcomes, evidence, "counts")
                self._vote(choices, ways, left)
                return left[0], evidence
        if len(set(outcomes)) == 1:
            return 0, evidence
        for by, judge in (("places", self._closes), ("later counts", self._later)):
            scores = [judge(row, following, places, {**fixed, **ways[at]}) for at in left]
            best = max(scores)
            if best > min(scores):
                left = [at for at, score in zip(left, scores, strict=True) if score == best]
                self._told(choices, ways, left, outcomes, evidence, by)
        return left[0], evidence

    @staticmethod
    def _told(
        choices: tuple[Choice, ...],
        ways: Ways,
        left: list[int],
        outcomes: list[_Counts],
        evidence: dict[int, str],
        by: str,
    ) -> None:
        """Marks the choices for which only one reading is left, if their readings make a difference at all."""
        for choice in choices:
            readings = {ways[at][choice.key] for at in left}
            if len(readings) == 1 and _differs(choice, ways[left[0]], ways, outcomes):
                evidence[choice.key] = by

    def _vote(self, choices: tuple[Choice, ...], ways: Ways, left: list[int]) -> None:
        for choice in choices:
            readings = {ways[at][choice.key] for at in left}
            if len(readings) == 1 and choice.kind not in _NO_HABIT:
                votes = self._votes.setdefault(choice.kind, {})
                reading = readings.pop()
                votes[reading] = votes.get(reading, 0) + 1

    def _outcome(self, row: Instance, places: Sequence[Standing], readings: dict[int, str]) -> _Counts:
        """The count of every size; below nought where places are lacking, None where the row cannot be worked."""
        found: list[int | None] = []
        against = any(reading in _AGAINST for reading in readings.values())
        for size, place in enumerate(places):
            body = row.bodies[size]
            worked = None
            if body is not None and row.labels[size] is not None:
                worked = self.bench.work(
                    body, place.offer, size, place.colour, readings, place.depth, place.past, place.edges
                )
            if worked is None or (against and (worked.left or worked.left_over)):
                found.append(None)
            else:
                found.append(worked.count if not worked.lacking else -worked.count - 1)
        return tuple(found)

    def _closes(
        self, row: Instance, following: Sequence[Instance], places: Sequence[Standing], readings: dict[int, str]
    ) -> int:
        """In how many sizes the row fails to use the row below exactly, counted below nought."""
        score = 0
        for size, place in enumerate(places):
            body = row.bodies[size]
            if body is None or row.labels[size] is None:
                continue
            worked = self.bench.work(
                body, place.offer, size, place.colour, readings, place.depth, place.past, place.edges
            )
            if worked is not None:
                score -= bool(worked.lacking) + bool(worked.left_over) + bool(worked.left)
        return score

    def _later(
        self, row: Instance, following: Sequence[Instance], places: Sequence[Standing], readings: dict[int, str]
    ) -> int:
        """How well the later rows close when this row is read in one way, over all sizes."""
        score = 0
        for size, place in enumerate(places):
            body = row.bodies[size]
            if body is None or row.labels[size] is None:
                continue
            worked = self.bench.work(
                body, place.offer, size, place.colour, readings, place.depth, place.past, place.edges
            )
            if worked is None:
                continue
            past = laid_on(place.past, row, size, place.offer, worked)
            score += closing(
                self.bench, self.usual, following, worked.offer, size, worked.colour, place.depth + 1, past
            )
        return score

    def _cut(self, row: Instance, places: Sequence[Standing], stated: _Counts | None) -> tuple[Chosen, ...]:
        """`around` cut at the join: taken only where the stated counts tell it from a repeat that does not come out."""
        if stated is None:
            return ()
        whole: list[int | None] = [None] * len(places)
        cuts: list[int | None] = [None] * len(places)
        found: Times | None = None
        rest: list[Times] = []
        looked: Body | None = None
        for size, place in enumerate(places):
            body = row.bodies[size]
            if body is None or row.labels[size] is None or stated[size] is None or place.offer.kind != "row":
                continue
            if body is not looked:
                looked = body
                rest = [node for node in body if isinstance(node, Times) and node.mode == "rest" and node.rest is None]
            if len(rest) != 1:
                continue
            plain = self.bench.work(body, place.offer, size, place.colour, {}, place.depth, place.past, place.edges)
            if plain is None or not plain.left_over or plain.count == stated[size]:
                continue
            readings = {-1 - rest[0].span.start: "cut"}
            cut = self.bench.work(body, place.offer, size, place.colour, readings, place.depth, place.past, place.edges)
            if cut is not None and not cut.left_over and cut.count == stated[size] and cut.count != cut.used:
                found, whole[size], cuts[size] = rest[0], plain.count, cut.count
        if found is None:
            return ()
        choice = Choice("around", found.words, ("whole groups", "cut"), -1 - found.span.start, True)
        return (Chosen(choice, "cut", "counts", {"whole groups": tuple(whole), "cut": tuple(cuts)}),)


def _fits(outcome: _Counts, stated: _Counts) -> bool:
    """Whether a reading meets the stated counts in every size that has one."""
    wanted = sum(want is not None for want in stated)
    return wanted > 0 and _fit(outcome, stated) == wanted


def _fit(outcome: _Counts, stated: _Counts) -> int:
    """In how many sizes a reading meets the stated counts."""
    return sum(count == want for count, want in zip(outcome, stated, strict=True) if want is not None)


def _siblings(choice: Choice, way: Mapping[int, str], ways: Ways) -> list[int]:
    """The ways that differ from one in this choice alone, and the way itself."""
    return [
        at
        for at, other in enumerate(ways)
        if all(other[key] == value for key, value in way.items() if key != choice.key)
    ]


def _differs(choice: Choice, way: Mapping[int, str], ways: Ways, outcomes: list[_Counts]) -> bool:
    return len({outcomes[at] for at in _siblings(choice, way, ways)}) > 1


def _chosen(choice: Choice, way: Mapping[int, str], ways: Ways, outcomes: list[_Counts], evidence: str) -> Chosen:
    """The choice with what each of its readings would come to, the other choices of the row as taken."""
    counts = {ways[at][choice.key]: outcomes[at] for at in _siblings(choice, way, ways)}
    return Chosen(choice, way[choice.key], evidence, counts)
