"""Every row of every size counted, with one reading chosen for every phrase that has two, and the evidence for it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

import msgspec

from roundhand.findings import Finding, Span
from roundhand.notation.tree import (
    Chain,
    Evenly,
    Node,
    Pattern,
    Plan,
    Rejoin,
    Ring,
    RowLine,
    Step,
    Times,
    Turn,
    Work,
    Yarn,
)
from roundhand.sizing import gauge_book
from roundhand.tally.alike import AlikeRows
from roundhand.tally.blocks import in_blocks
from roundhand.tally.choosing import Chooser
from roundhand.tally.edges import around_offer, chain_offer, ends_offer
from roundhand.tally.entering import entered
from roundhand.tally.evening import settled_later
from roundhand.tally.ground import ending, shortened
from roundhand.tally.held import Held, held_of, passed_before, rejoins, shut_out, take_up
from roundhand.tally.how_often import as_read
from roundhand.tally.model import (
    Block,
    Choice,
    Chosen,
    Offer,
    RowTally,
    Run,
    StepTally,
    Tally,
    Worked,
    YarnEvent,
)
from roundhand.tally.notes_against import contradictions
from roundhand.tally.open_chains import chain_for, is_without_chain, told_of
from roundhand.tally.pages import Leaf, Pages, has_schedules
from roundhand.tally.piecework import PieceMaker, begins_piece, edge_of, is_foundation
from roundhand.tally.readings import chain_rules, choices_of, combinations
from roundhand.tally.scheduling import Ground
from roundhand.tally.section import Body, Instance
from roundhand.tally.standing import NOTHING, Standing, stands_on
from roundhand.tally.stating import Counts, as_total, counts_groups, is_total, total_of
from roundhand.tally.stitching import MOST_STITCHES
from roundhand.tally.stretches import in_hand_now, strands_in
from roundhand.tally.telling import findings_on_readings
from roundhand.tally.working import Bench, climbs, goes_around


def count(pattern: Pattern, alike: AlikeRows | None = None) -> tuple[Tally, list[Finding]]:
    """The tally of a pattern and the findings on its ranges, references and readings.

    `alike` are the rows of the pattern before, where that is the same page with something changed: those that say the
    same on the same stitches are not worked again. The answer is the same with it and without it.

    >>> from roundhand.notation import read
    >>> pattern, _ = read("Cap\\n\\nRnd 1: 6 sc in a magic ring. (6)\\nRnd 2: inc in each st around. (12)")
    >>> tally, findings = count(pattern)
    >>> [row.worked for row in tally.rows()], findings
    ([(6,), (12,)], [])
    """
    pattern = in_blocks(pattern)
    counter = _Counter(pattern, alike)
    pieces = tuple(piece.made() for piece in counter.pieces())
    kept = tuple(piece for piece in pieces if piece.rows or piece.steps)
    said = counter.pages.findings + counter.findings + findings_on_readings(kept, pattern.sizes)
    tally = Tally(pattern, kept)
    return msgspec.structs.replace(tally, against=contradictions(tally, _counted)), said


def _counted(pattern: Pattern) -> Tally:
    """A pattern in blocks counted, and no more."""
    pieces = tuple(piece.made() for piece in _Counter(pattern).pieces())
    return Tally(pattern, tuple(piece for piece in pieces if piece.rows or piece.steps))


# After so many rows of absurd length the rest of the size is left alone.
_MOST_ABSURD = 20


class _Opening(msgspec.Struct, frozen=True):
    """How a row begins: whether a yarn is joined anew, the first node that makes anything, and whether it goes all
    round a piece."""

    rejoins: bool
    first: Node | None
    around: bool

    @classmethod
    def of(cls, body: Body) -> _Opening:
        """How the row of a body begins."""
        first = next((node for node in body if isinstance(node, Ring | Work | Times | Evenly) or climbs(node)), None)
        return cls(rejoins(body) is not None, first, goes_around(body))


class _Counter:
    """One counting of one pattern."""

    def __init__(self, pattern: Pattern, alike: AlikeRows | None = None) -> None:
        self.pattern = pattern
        self.pages = Pages(pattern.parts, pattern.sizes, pattern.turned_rounds)
        # Without schedules all rows are known before the first is worked.
        self.sections = None if has_schedules(pattern.parts) else list(self.pages.sections())
        self.gauges = gauge_book(pattern)
        self.heights: dict[tuple[int, int], tuple[int, Fraction | None]] = {}
        self.sizes = len(pattern.sizes)
        self.findings: list[Finding] = []
        lines = [line for part in pattern.parts for line in part.lines if isinstance(line, RowLine)]
        rules = chain_rules(lines, pattern.count_notes)
        self.bench = Bench(pattern, rules, alike)
        self.chooser = Chooser(self.bench, rules, pattern.depth_note)
        self.first_colour = next((yarn.label for yarn in pattern.yarns if yarn.label), "")
        self.chains_counted: dict[str, int] = {}
        self.counts_chains = False
        self.limited: set[int] = set()
        self.absurd = 0

    def pieces(self) -> list[PieceMaker]:
        """Settles the habits from the rows whose counts are stated, then counts."""
        first = self._walk()
        votes = self.chains_counted
        self.counts_chains = votes.get("with chains", 0) > votes.get("stitches", 0)
        learnt = self.chooser.settle()
        if not learnt and not self.counts_chains:
            # Nothing was learnt that the first walk did not know.
            return first
        self.findings.clear()
        self.limited.clear()
        return self._walk()

    # The walk over the page.

    def _walk(self) -> list[PieceMaker]:
        places = [Standing(colour=self.first_colour) for _ in range(self.sizes)]
        pieces: list[PieceMaker] = []
        for section in self._sections():
            if not section.rows and not section.steps and not section.waits:
                continue
            if not pieces or (section.rows and begins_piece(section.section(), places)):
                pieces.append(PieceMaker(section.part.name, self.sizes, section.part.make))
                self._begin(places, section)
            piece = pieces[-1]
            if section.part.name not in piece.parts:
                piece.parts.append(section.part.name)
            self._through(section, places, piece)
        return pieces

    def _sections(self) -> Iterable[Leaf]:
        if self.sections is not None:
            return self.sections
        self.pages = Pages(self.pattern.parts, self.pattern.sizes, self.pattern.turned_rounds)
        self.heights.clear()
        return self.pages.sections()

    def _through(self, section: Leaf, places: list[Standing], piece: PieceMaker) -> None:
        """Works the rows and steps of a part in their order."""
        index = done = 0
        while True:
            while done < len(section.steps) and section.steps[done][0] <= index:
                self._step(section.steps[done][1], section, places, piece, section.rows[index : index + 81])
                done += 1
            if index < len(section.rows):
                self._row(section.rows[index], tuple(section.rows[index + 1 : index + 81]), places, piece)
                index += 1
            elif not section.go_on(lambda size, part, plan: self._ground(places, piece, size, part, plan)):
                return

    def _tall(self, piece: PieceMaker, size: int) -> Fraction | None:
        """How tall the piece is by the gauge; None where that gives no height for one of its rows."""
        seen, tall = self.heights.get((id(piece), size), (0, Fraction(0)))
        for row in piece.rows[seen:]:
            result = row.results[size]
            if row.labels[size] is not None and tall is not None:
                main = result.offer.main if result is not None else ""
                high = self.gauges.height(row.part, main) if main else None
                tall = tall + high if high is not None else None
        self.heights[id(piece), size] = len(piece.rows), tall
        return tall

    def _ground(self, places: list[Standing], piece: PieceMaker, size: int, part: str, plan: Plan) -> Ground:
        """What a schedule begins on in a size."""
        place = places[size]

        def work(body: Body, offer: Offer) -> Worked | None:
            readings = combinations(choices_of(body, self.chooser.rules), self.chooser.habits)[0]
            return self.bench.work(body, offer, size, place.colour, readings, place.depth + 1, place.past)

        tall = self._tall(piece, size) if plan.lengths else None
        main = plan.stitch or place.offer.main
        return Ground(place.offer, 1, work, tall=tall, height=self.gauges.height(part, main) if main else None)

    def _begin(self, places: list[Standing], section: Leaf) -> None:
        """A new piece: nothing below it but, where it is worked along an edge, that edge of the piece before."""
        along = edge_of(section.section())
        for place in places:
            if along == "rejoined":
                place.depth = 0
            elif along in ("row_ends", "edge"):
                place.go_along(ends_offer(place.edges))
            elif along == "chain":
                place.go_along(chain_offer(place.edges))
            elif along == "around":
                self._go_around(place)
            elif along == "joined" and place.offer.kind == "row":
                place.depth = 0
            else:
                place.begin(NOTHING)
                place.past = None

    def _go_around(self, place: Standing) -> None:
        """All round what is there: four edges of a flat piece, the row ends of one that a seam made a ring of, else the
        last round."""
        edges = place.edges
        if not edges.rows or not edges.flat or place.edging or not edges.foundation:
            return
        place.go_along(ends_offer(edges) if edges.closed else around_offer(edges))

    # Steps.

    def _step(
        self, step: Step, section: Leaf, places: list[Standing], piece: PieceMaker, ahead: Sequence[Instance]
    ) -> None:
        results: list[Worked | None] = [None] * self.sizes
        for size, place in enumerate(places):
            if size not in step.sizes:
                continue
            self._take_up(step.nodes, place, size)
            if step.act == "seam":
                results[size] = self._seam(step, place, size)
            else:
                results[size] = self._start(step.nodes, place, size, ahead)
            piece.happen(step.nodes, place.colour, size, len(piece.rows) - 1)
        if any(result is not None for result in results):
            piece.steps.append(StepTally(step, section.part.name, tuple(results), len(piece.rows)))

    def _start(self, nodes: tuple[Node, ...], place: Standing, size: int, ahead: Sequence[Instance]) -> Worked | None:
        """A step that starts something: a chain, a ring, foundation stitches."""
        made: list[Run | Block] = []
        turns = any(isinstance(node, Turn) for node in nodes)
        for node in nodes:
            if isinstance(node, Yarn) and node.act in ("with", "join", "change") and node.colour and node.at is None:
                place.colour = in_hand_now(node.colour, place.colour) if node.colour != "*" else place.colour
            if isinstance(node, Chain):
                amount = node.amount.at(size)
                if amount is None or made:
                    continue
                if node.multiple and ahead:
                    amount = self._left_open(node.multiple, node.span, ahead, size)
                if place.offer.kind == "row" and (turns or amount == 1):
                    # A chain on its own line before the next row, "Ch 1, turn."
                    place.offer = msgspec.structs.replace(place.offer, turning=amount, turning_counts=node.counts)
                    continue
                place.begin(Offer("chain", amount))
                place.foundation = place.offer
                made.append(Run("chain", amount, place.colour, node.span, counts=False))
            elif isinstance(node, Ring):
                chains = node.chains.at(size) if node.chains is not None else None
                place.begin(Offer("ring", chains or 0))
            elif isinstance(node, Work) and is_foundation(node):
                worked = self.bench.work((node,), Offer("ring"), size, place.colour, {}, 0)
                if worked is not None:
                    place.begin(worked.offer)
                    place.edges = msgspec.structs.replace(place.edges, foundation=worked.count)
                    made += worked.made
        if not made:
            return None
        return Worked(tuple(made), 0, 0, 0, 0, place.offer)

    def _left_open(self, multiple: tuple[int, ...], span: Span, ahead: Sequence[Instance], size: int) -> int:
        """The chain that a piece is counted on where the words leave its number open; it is told once."""
        length = chain_for(multiple, self.bench, self.chooser.usual, ahead, size)
        if not any(found.span == span and found.facts.get("kind") == "open chain" for found in self.findings):
            self.findings.append(told_of(multiple, length, span, self.pattern.sizes))
        return length

    def _take_up(self, nodes: tuple[Node, ...], place: Standing, size: int, in_row: bool = False) -> None:
        """A yarn joined where stitches were left, or the work going on on some of the stitches alone."""
        rejoin = rejoins(nodes)
        if rejoin is not None:
            passed = passed_before(nodes, size)
            found = take_up(place.held, rejoin, size, 0 if in_row else passed)
            if found is not None:
                place.offer = found
                place.depth = max(place.depth, 1)
                place.rejoined = True
            elif rejoin.what and place.offer.kind == "row":
                self._nothing_left(rejoin, size)
            return
        alone = shut_out(nodes, size) if not in_row else None
        if alone is not None and place.offer.kind == "row" and alone < place.offer.total:
            out = place.offer.total - alone
            place.held.append(Held("left", None, ending(place.offer, out), True))
            place.offer = shortened(place.offer, out)

    def _nothing_left(self, rejoin: Rejoin, size: int) -> None:
        """`place-missing` where a yarn is joined in stitches that no row has left."""
        name = self.pattern.sizes[size]
        for at, found in enumerate(self.findings):
            if found.name == "place-missing" and found.span == rejoin.span:
                self.findings[at] = msgspec.structs.replace(found, sizes=tuple(dict.fromkeys((*found.sizes, name))))
                return
        self.findings.append(
            Finding(
                "place-missing",
                "error",
                f"no stitches {'were left unworked' if rejoin.what == 'left' else 'were passed over'} before",
                rejoin.span,
                (name,),
                because="the yarn is joined in stitches that wait, and every row above works into all of the row below",
                help="say in the row that leaves them how many stitches stay unworked",
                facts={"what": rejoin.what},
            )
        )

    def _seam(self, step: Step, place: Standing, size: int) -> Worked | None:
        """Stitches of a seam: they join what is there and leave the work as it is."""
        worked = self.bench.work(step.nodes, Offer("row", place.offer.total), size, place.colour, {}, 0)
        return worked if worked is not None and worked.made else None

    # Rows.

    def _row(self, row: Instance, following: tuple[Instance, ...], places: list[Standing], piece: PieceMaker) -> None:
        if all(label is None for label in row.labels):
            return
        openings: dict[int, _Opening] = {}
        for size, place in enumerate(places):
            self._row_start(row, place, size, openings, following)
        if row.straight:
            row = self._faced(row, places)
        stated, unit = self._stated(row)
        readings, chosen = self.chooser.read(row, following, places, stated if is_total(unit) else None)
        below = tuple(
            entered(place.offer, row.bodies[size] or (), readings) if row.labels[size] is not None else None
            for size, place in enumerate(places)
        )
        results = [
            self._worked(
                row, following, size, place, readings, stated[size] if stated is not None and is_total(unit) else None
            )
            for size, place in enumerate(places)
        ]
        below = tuple(
            result.base if result is not None and result.base is not None else offer
            for offer, result in zip(below, results, strict=True)
        )
        rejoined = tuple(place.rejoined and row.labels[size] is not None for size, place in enumerate(places))
        if stated is not None and row.stated is not None:
            told = self._chains_in_count(row, stated, unit, results)
            chosen = (*chosen, *told)
            if unit not in ("", "stitch"):
                stated = tuple(
                    as_total(value, unit, row.stated, results[size], size, self.pattern.definitions)
                    for size, value in enumerate(stated)
                )
        stands: list[str] = []
        groups = stated is not None and row.stated is not None and counts_groups(row.stated, self.pattern.definitions)
        for size, place in enumerate(places):
            if row.labels[size] is None:
                stands.append("")
                continue
            result = results[size]
            want = stated[size] if stated is not None else None
            if result is not None and want == result.count + result.offer.chains:
                # The chains may have been counted as well; the row is as it should be.
                want = result.count
            if want is not None and groups:
                # So many groups tell how many stitches the row has, and not where its spaces lie.
                want = None
            stands.append(stands_on(self.bench, self.chooser.usual, row, following, place, size, result, want))
            under = below[size]
            if result is not None and under is not None:
                if place.offer.after and not under.after:
                    # What was left is worked at last.
                    place.held = [one for one in place.held if one.what != "left"]
                place.held += held_of(result, under, row.bodies[size] or (), row.labels[size])
            place.go_on(row, size, result, want, stands[-1])
            place.rejoined = False
            if result is not None:
                for colour in dict.fromkeys(label for used in result.colours for label in strands_in(used)):
                    piece.events[size].append(YarnEvent("use", colour, len(piece.rows), row.line.label.span))
            piece.happen(row.bodies[size] or (), place.colour, size, len(piece.rows))
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
                tuple(as_read(body, readings) if body is not None else None for body in row.bodies),
                unit,
                below,
                rejoined,
            )
        )

    def _faced(self, row: Instance, places: list[Standing]) -> Instance:
        """A row in mirror image where that comes to what the row itself comes to, else in its own order: what is made
        stays the same either way."""
        usual = self.chooser.usual(row)
        bodies = list(row.bodies)
        for size, place in enumerate(places):
            body, straight = row.bodies[size], row.straight[size]
            if body is None or straight is None or body is straight:
                continue
            found = self.bench.work(body, place.offer, size, place.colour, usual, place.depth)
            wanted = self.bench.work(straight, place.offer, size, place.colour, usual, place.depth)
            if wanted is None or found is None or _outcome(found) != _outcome(wanted):
                bodies[size] = straight
        return msgspec.structs.replace(row, bodies=tuple(bodies))

    def _worked(
        self,
        row: Instance,
        following: tuple[Instance, ...],
        size: int,
        place: Standing,
        readings: Mapping[int, str],
        stated: int | None,
    ) -> Worked | None:
        """One row in one size, within the limits."""
        body = row.bodies[size]
        if body is None or row.labels[size] is None or size in self.limited:
            return None
        worked = self.bench.work(
            body, place.offer, size, place.colour, readings, place.depth, place.past, place.edges, stated
        )
        if worked is not None and worked.free and stated is None:
            usual = self.chooser.usual
            worked = settled_later(self.bench, usual, row, body, following, place, size, readings, worked)
        if self.bench.too_long:
            self.absurd += 1
            if self.absurd > _MOST_ABSURD:
                self.limited.add(size)
            self._limit(row, size, f"a row of more than {MOST_STITCHES:,} stitches is not worked")
        elif worked is not None:
            place.worked += worked.count
            if place.worked > MOST_STITCHES:
                self.limited.add(size)
                self._limit(row, size, f"more than {MOST_STITCHES:,} stitches; the rest is not worked")
                return None
        return worked

    def _limit(self, row: Instance, size: int, headline: str) -> None:
        if any(found.name == "limit-reached" and found.headline == headline for found in self.findings):
            return
        self.findings.append(
            Finding(
                "limit-reached",
                "error",
                headline,
                row.line.label.span,
                (self.pattern.sizes[size],),
                help="check the numbers of this row: one of them may have a digit too many",
                facts={"limit": MOST_STITCHES},
            )
        )

    def _row_start(
        self,
        row: Instance,
        place: Standing,
        size: int,
        openings: dict[int, _Opening],
        following: tuple[Instance, ...],
    ) -> None:
        """What a row does before its first stitch: a foundation chain or a ring made in the row itself.

        `openings` holds how the bodies of the row begin, by their ids: mostly all sizes have the same."""
        body = row.bodies[size]
        if body is None or row.labels[size] is None:
            return
        opening = openings.get(id(body))
        if opening is None:
            opening = openings[id(body)] = _Opening.of(body)
        if opening.rejoins:
            self._take_up(body, place, size, in_row=True)
            return
        first = opening.first
        if opening.around and place.offer.kind == "row":
            self._go_around(place)
        if isinstance(first, Ring) or (
            isinstance(first, Work) and first.into.kind == "ring" and place.offer.kind != "ring"
        ):
            chains = first.chains.at(size) if isinstance(first, Ring) and first.chains is not None else None
            said = first.into.length if isinstance(first, Work) else None
            place.begin(Offer("ring", chains or said or 0))
        elif isinstance(first, Chain) and place.offer.kind in ("none", "chain", "ring"):
            hook = next((node for node in body if isinstance(node, Work)), None)
            ring = any(isinstance(node, Ring) for node in body)
            amount = first.amount.at(size)
            if ring:
                place.begin(Offer("ring", amount or 0))
            elif hook is not None and hook.into.kind == "from_hook" and amount is not None:
                if first.multiple:
                    amount = self._left_open(first.multiple, first.span, (row, *following), size)
                place.begin(Offer("chain", amount))
                place.foundation = place.offer
            elif place.offer.kind == "none" and hook is not None and hook.into.kind == "ring":
                place.begin(Offer("ring"))
        elif isinstance(first, Work) and is_foundation(first):
            place.begin(Offer("ring"))
        elif isinstance(first, Work) and place.offer.kind == "none" and not place.depth and is_without_chain(row, size):
            length = self._left_open((), first.into.span, (row, *following), size)
            place.begin(Offer("chain", length))
            place.foundation = place.offer

    def _stated(self, row: Instance) -> tuple[Counts | None, str]:
        """The count that the text states for this row, in every size, and what it counts.

        A count after a range holds for its last row, and for every row if none changes it; which of the two is
        settled when the row has been worked, so here it is given to all rows of the range.
        """
        if row.stated is None:
            return None, ""
        counts, unit = total_of(row.stated, self.sizes, self.pattern.definitions)
        return tuple(
            value if label is not None else None for value, label in zip(counts, row.labels, strict=True)
        ), unit

    def _chains_in_count(
        self, row: Instance, stated: Counts, unit: str, results: list[Worked | None]
    ) -> tuple[Chosen, ...]:
        """Whether the pattern counts its chains: a habit of the whole pattern, voted for by rows that hold spaces."""
        if unit not in ("", "stitch") or not any(result is not None and result.offer.chains for result in results):
            return ()
        alone = tuple(result.count if result is not None else None for result in results)
        whole = tuple(result.count + result.offer.chains if result is not None else None for result in results)
        for reading, counts in (("stitches", alone), ("with chains", whole)):
            if all(want is None or want == made for want, made in zip(stated, counts, strict=True)):
                self.chains_counted[reading] = self.chains_counted.get(reading, 0) + 1
        if not self.counts_chains:
            return ()
        for size, result in enumerate(results):
            if result is not None:
                results[size] = msgspec.structs.replace(result, count=result.count + result.offer.chains)
        if row.stated is None:
            return ()
        choice = Choice("stated count", row.stated.span, ("stitches", "with chains"), row.stated.span.start, True)
        return (Chosen(choice, "with chains", "counts", {"stitches": alone, "with chains": whole}),)


def _outcome(worked: Worked) -> tuple[int, int, bool, int]:
    """What a row and its mirror image have in common: what is made, lacking, and what does not come out."""
    return worked.count, worked.lacking, bool(worked.left_over), worked.offer.chains
