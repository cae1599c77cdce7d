"""What a tally holds: rows counted by run lengths, in every size."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import msgspec

from roundhand.findings import Span
from roundhand.notation.tree import Node, Pattern, RowLine, Stated, Step, Times, Work


class Run(msgspec.Struct, frozen=True):
    """A number of one stitch made one after the other, alike in colour and place.

    `colour` is the label of the yarn; strands worked as one stand with a plus between, `A+A`, `A+B`.
    `below` is how many rows lower they are worked (1: the row below). `counts` is false for chains and joins. `lead`
    and `trail` are the stitches of a group that each passes before and behind the one it is worked into."""

    stitch: str
    count: int
    colour: str
    span: Span
    loop: str = ""
    below: int = 1
    uses: int = 0
    counts: bool = True
    lead: int = 0
    trail: int = 0


class Block(msgspec.Struct, frozen=True):
    """A sequence of runs made again and again. `last` is true for the last run of a repeat that ends otherwise; then
    `done` are the positions of the nodes of its body that are worked."""

    times: int
    runs: tuple[Run | Block, ...]
    span: Span
    last: bool = False
    done: tuple[int, ...] = ()


class Offer(msgspec.Struct, frozen=True):
    """What a row offers the next one to work into.

    `kind`: `row`, `chain`, `ring`, `ends` (row ends), `around` (all edges of a flat piece) or `none`. `total` is its
    stitches (chains, row ends); `layout` is empty where it has no chain spaces, else one byte a place in working order:
    `s` a stitch, `o` a space. `chains` is the number of chains in its spaces, `lengths` the chains of each, a byte a
    space. `corners` are the positions of the places in its corners. `even` is how many stitches lie flat along row
    ends, and the row ends along one side of an edge all round. `open` is true where the number of places follows from
    words that leave it open, "evenly", and no count has settled it. `main` is the stitch it is mostly made of,
    `turning` a chain already made at its end for the next row, with what the text says of its counting. `peaks` is true
    where it has places that may be corners and cannot be told. `after` are stitches of earlier rows that were left
    unworked and lie beyond its end, `before` those that lie behind its beginning; `put_aside` is true where they were
    left for another yarn to take up. `chained` is how many of its first places are chains made to widen the work,
    which the row is worked back along before it goes on over the stitches. `runs` are the chains between stitches that
    are worked into one by one, each run with its first place and the place behind its last.
    """

    kind: str
    total: int = 0
    layout: bytes = b""
    chains: int = 0
    main: str = ""
    turning: int = 0
    turning_counts: bool | None = None
    after: int = 0
    before: int = 0
    put_aside: bool = False
    even: int = 0
    corners: tuple[int, ...] = ()
    lengths: bytes = b""
    open: bool = False
    peaks: bool = False
    chained: int = 0
    runs: tuple[tuple[int, int], ...] = ()


class Grouped(msgspec.Struct, frozen=True):
    """Groups of one kind that a row makes by the same words, so many `times`."""

    kind: str
    times: int = 1


class Segment(msgspec.Struct, frozen=True):
    """What one phrase of a row used and made: for the reasons behind a count. `times` is how often a group ran."""

    node: Node
    span: Span
    uses: int
    makes: int
    times: int = 1
    each_uses: int = 0
    each_makes: int = 0


class LeftOver(msgspec.Struct, frozen=True):
    """A repeat to the end that did not come out: `over` of `places` were left when the next group needed `group`."""

    node: Times
    places: int
    group: int
    over: int


class Missing(msgspec.Struct, frozen=True):
    """A place that is not there: the words that ask for it and what is missing.

    `what`: `row` (so many rows below), `named row`, `space`, `space length`, `chain` (from the hook), `chain of` (of a
    chain that is shorter), `free loop`, `skipped`, `third loop`, `stitch`, `corner`, `foundation`, `row ends`, `rows
    of` (of a stitch). `told` says what is there instead."""

    span: Span
    what: str
    wanted: int
    there: int
    told: str = ""


class Open(msgspec.Struct, frozen=True):
    """Stitches whose number the words leave to whoever works them: as many as lie flat, and the least and the most that
    such words can mean. `spoken` is false where only the rounding of a rate is left open."""

    number: int
    least: int
    most: int
    spoken: bool = True


class Worked(msgspec.Struct, frozen=True):
    """One row worked in one size.

    `count` is stitches plus a turning chain that counts. `used` of the places below were used, `left` were not, and
    `lacking` is how many more the row asks for than there are. `leaves` is true where the words leave places on
    purpose, and `said_left` how many by their count. `aside` are runs of stitches that the row passed over with chains
    made in their place, each with the number of those chains. `repeats` is how often the row's first repeat ran.
    `stands` is how many rows lower the row is worked that the whole of it stands on: 1, or more where it goes along
    loops left free there, and then `base` is what they offer.
    `groups` are the groups of the row in order, None where they are too many to keep.
    `beyond` are the places of further edges that the row goes on along, the other side of a chain or row ends, which
    `used` and `left` take in. `free` are stitches whose number the words leave open ("evenly"), phrase by phrase.
    `attached` is how often the row is joined to another motif. `corner_arm` is how many
    stitches a group in a corner has on either side of its middle.
    """

    made: tuple[Run | Block, ...]
    count: int
    used: int
    left: int
    lacking: int
    offer: Offer
    segments: tuple[Segment, ...] = ()
    left_over: tuple[LeftOver, ...] = ()
    missing: tuple[Missing, ...] = ()
    colours: tuple[str, ...] = ()
    colour: str = ""
    turned: bool = False
    repeats: int = 0
    unread: int = 0
    ends: tuple[int, int] | None = None
    chain_counted: int = 0
    jumped: int = 0
    leaves: bool = False
    said_left: int | None = None
    aside: tuple[tuple[int, int], ...] = ()
    stands: int = 1
    base: Offer | None = None
    groups: tuple[Grouped, ...] | None = ()
    beyond: int = 0
    free: tuple[Open, ...] = ()
    attached: int = 0
    corner_arm: int = 0


class Choice(msgspec.Struct, frozen=True):
    """A phrase with two readings: `kind` of phrase, the words, and the readings, the usual one first.

    `key` is what the reading is known by while the row is worked. `clear` is true where usage or other words of the
    row favour the first reading so plainly that nobody need be asked."""

    kind: str
    span: Span
    readings: tuple[str, ...]
    key: int = 0
    clear: bool = False


class Chosen(msgspec.Struct, frozen=True):
    """Which reading was taken, and on what evidence.

    `evidence` is `counts` (stated for the row), `places` (those of the row below come out), `later counts`, `habit` or
    `usage`. `counts` holds what every reading comes to."""

    choice: Choice
    reading: str
    evidence: str
    counts: Mapping[str, tuple[int | None, ...]] = {}


class RowTally(msgspec.Struct, frozen=True):
    """One row instance: the i-th row of one line of the page, with a label in every size that has it.

    `stands_on` says for every size what the next row was worked from: `worked`, `stated`, or empty where the row is
    not in the size. `copied` is true for rows worked as earlier ones were. `rejoined` says for every size whether the
    row begins on stitches that were left or passed over before, and not on the row above it.
    """

    part: str
    kind: str
    line: RowLine
    number: int
    labels: tuple[int | None, ...]
    results: tuple[Worked | None, ...]
    stated: tuple[int | None, ...]
    stated_by: Stated | None
    stands_on: tuple[str, ...]
    chosen: tuple[Chosen, ...] = ()
    copied: bool = False
    nodes: tuple[tuple[Node, ...] | None, ...] = ()
    unit: str = ""
    below: tuple[Offer | None, ...] = ()
    rejoined: tuple[bool, ...] = ()

    @property
    def label(self) -> str:
        """The label in the first size that has the row: `Rnd 24`, `Row 3`."""
        return self.label_in(next((at for at, label in enumerate(self.labels) if label is not None), 0))

    def label_in(self, size: int) -> str:
        """The label in a size, empty where the row is not in it."""
        number = self.labels[size]
        if number is None:
            return ""
        return f"{'Rnd' if self.kind == 'round' else 'Row'} {number}"

    def is_open(self, size: int) -> bool:
        """Whether the words leave the count to whoever works the row, "evenly", and no count is written that settles
        it; the count is then what lies flat by the usual rates."""
        result = self.results[size]
        return result is not None and result.offer.open and self.stated[size] is None

    @property
    def worked(self) -> tuple[int | None, ...]:
        """The count of every size; None where the row is not in the size or could not be worked."""
        return tuple(result.count if result is not None else None for result in self.results)


class YarnEvent(msgspec.Struct, frozen=True):
    """Something that happens to a yarn in one size: `use` in a row, `change` on a last yarn over, `cut`, `fasten`,
    `carry`. `row` is the position of the row in its piece, -1 before the first. `strands` is how many strands are cut,
    0 for all."""

    act: str
    colour: str
    row: int
    span: Span
    strands: int = 0


class StepTally(msgspec.Struct, frozen=True):
    """A step with what it made in every size: a chain, a seam, a ring."""

    step: Step
    part: str
    results: tuple[Worked | None, ...]
    after: int


class PieceTally(msgspec.Struct, frozen=True):
    """What is worked in one go: its rows and steps, and what happened to its yarns in every size. `make` is how many
    are made: one number for all sizes, or one for each."""

    name: str
    parts: tuple[str, ...]
    rows: tuple[RowTally, ...]
    steps: tuple[StepTally, ...]
    events: tuple[tuple[YarnEvent, ...], ...]
    start: tuple[Offer, ...]
    make: tuple[int, ...] = (1,)

    def made(self, size: int) -> int:
        """How many of it are made in a size."""
        return self.make[size] if len(self.make) > 1 else self.make[0]


class Against(msgspec.Struct, frozen=True):
    """Words that say of chains whether they count as a stitch, and the rows whose counts say the other.

    `chains` is the number of chains they speak of, 0 for all, or for those that a foundation skips. `rows` are worked
    as their counts want it, against the words."""

    span: Span
    chains: int
    counts: bool
    rows: tuple[RowTally, ...]


class Tally(msgspec.Struct, frozen=True):
    """A pattern counted: pieces in the order of the page, and the notes that its counts contradict."""

    pattern: Pattern
    pieces: tuple[PieceTally, ...]
    against: tuple[Against, ...] = ()

    def made(self, piece: str, size: int) -> int:
        """How many of the piece with a name are made in a size."""
        return next((one.made(size) for one in self.pieces if one.name == piece), 1)

    def rows(self) -> Iterator[RowTally]:
        """All rows of all pieces in working order."""
        for piece in self.pieces:
            yield from piece.rows


def flat(runs: tuple[Run | Block, ...]) -> Iterator[Run]:
    """The runs of a row one after the other, blocks written out."""
    for run in runs:
        if isinstance(run, Run):
            yield run
        else:
            inner = tuple(flat(run.runs))
            for _ in range(run.times):
                yield from inner


def distinct(runs: tuple[Run | Block, ...]) -> Iterator[Run]:
    """The runs of a row, those of a block once however often it is made again.

    >>> run = Run("single", 4, "A", Span(0, 1))
    >>> len(list(distinct((run, Block(3, (run,), Span(0, 1))))))
    2
    """
    for run in runs:
        if isinstance(run, Run):
            yield run
        else:
            yield from distinct(run.runs)


def totals(runs: tuple[Run | Block, ...]) -> dict[tuple[str, str], int]:
    """How many of each stitch in each colour, without writing blocks out.

    >>> run = Run("single", 4, "A", Span(0, 1))
    >>> totals((run, Block(3, (run,), Span(0, 1))))
    {('single', 'A'): 16}
    """
    found: dict[tuple[str, str], int] = {}
    for run in runs:
        if isinstance(run, Run):
            key = (run.stitch, run.colour)
            found[key] = found.get(key, 0) + run.count
        else:
            for key, count in totals(run.runs).items():
                found[key] = found.get(key, 0) + count * run.times
    return found


def has_work(nodes: tuple[Node, ...]) -> bool:
    """Whether any stitch is asked for."""
    return any(isinstance(node, Work | Times) for node in nodes)
