"""The tree of a pattern: what the words say, before any stitch is counted.

Every node keeps the span of the words that asked for it. Where a phrase has two readings the node keeps both (its
amount is `unsaid`, its chain counts `None`), and the tally chooses by evidence.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

import msgspec

from roundhand.findings import Span
from roundhand.measures import Length
from roundhand.notation.quantities import Sizing
from roundhand.stitches import Stitch


class Amount(msgspec.Struct, frozen=True):
    """A number of every size: one value for all, or one for each size in order; None where a size has none.

    `what` is `space` where places kept back are counted in chain spaces, "to last 2 ch-1 sps".
    """

    values: tuple[int | None, ...]
    span: Span
    spans: tuple[Span, ...] = ()
    what: str = "stitch"

    def at(self, size: int) -> int | None:
        """The value in a size, by its position from 0."""
        if len(self.values) == 1:
            return self.values[0]
        return self.values[size] if size < len(self.values) else None

    def absent(self, size: int) -> bool:
        """Whether a dash of the list says that a size has none; a list that is too short says nothing of a size."""
        return self.at(size) is None and len(self.spans) == len(self.values) and self.spans[size] != self.span

    def words_of(self, sizes: tuple[int, ...]) -> Span:
        """The words that give the value in these sizes: one number of a list if they all have it, else the list."""
        if len(self.spans) == len(self.values):
            places = {
                self.spans[size if len(self.values) > 1 else 0]
                for size in sizes
                if size < len(self.values) or len(self.values) == 1
            }
            if len(places) == 1:
                return places.pop()
        return self.span


class Group(msgspec.Struct, frozen=True):
    """Stitches that stand together in the row below, and where in them the hook goes.

    `size` is how many they are, if the words say so ("4th of 7 dc"), else `name` is what they are called: a stitch id,
    a stitch the pattern defines, or empty for "groups" alone. `nth` is the stitch meant, or the one in front of the
    gap; 0 for the middle one, -1 for the last. `every` is true for all groups, or gaps, of the row, `flat` where they
    are said to lie across and not around, so that no gap follows the last stitch.
    """

    span: Span
    size: Amount | None = None
    name: str = ""
    nth: int = -1
    every: bool = False
    flat: bool = False


class Place(msgspec.Struct, frozen=True):
    """Where the hook goes.

    `kind`: `next` (the next `count` places), `each` (all that are left but `rest`), `same`, `first`, `last`, `ring`,
    `from_hook` (the chain numbered `count` from the hook), `row_ends`, `layers`, `evenly`, `space`, `within` (a stitch
    of a group), `between` (a gap between stitches or groups), `made` (the side or top of the stitch just made).
    `loop` is `back`, `front`, `third`, `between`, `layers` or empty for both; `below` the number of rows further down,
    0 for the row below; `what` is `stitch`, `space`, `loop` (of chain), `chain`, `row_end`, `turning_chain`,
    `turning_space` (under that), `skipped`
    (a stitch passed over before), `marked`, `corner`, `other_side` (of the foundation chain) or
    `foundation` (that chain, named as an edge). `bare` is true where a
    number stands in front of the stitch and no place is said, `2 sc`, which some houses mean as an increase. `also`
    says what else is worked into than the places named: `chain` for every chain, `left` for the stitches that an
    earlier row left unworked, empty for nothing else.

    `row` is the label of the row that the words name, "of Rnd 3", and `free` is true for loops that a row left free.
    `length` is the number of chains that the words give a space or a turning chain, `nth` the chain of it meant.
    `from_next` is true where the depth is counted from the next stitch, "2 rows below the next st". `named` is the
    group that the place is called by, a defined name or a stitch id: "in next shell" goes into the middle of one.
    `opening` is true for the chains of an opening that the words name, "in each underarm ch".
    `called` is the stitch that the words name a place by, "in each dc", empty for "in each st".
    `until` is `corner` for `each` place up to the next corner, `to_space` true for each up to the next chain space, of
    `length` chains where the words say so.
    `onward` is true for slip stitches that a round ends with: where nothing of it is left they go on into its own
    beginning.
    """

    kind: str
    span: Span
    count: Amount | None = None
    rest: Amount | None = None
    loop: str = ""
    post: str = ""
    below: Amount | None = None
    what: str = "stitch"
    bare: bool = False
    also: str = ""
    group: Group | None = None
    row: Amount | None = None
    free: bool = False
    length: int | None = None
    nth: int | None = None
    from_next: bool = False
    named: str = ""
    until: str = ""
    onward: bool = False
    called: str = ""
    opening: bool = False
    to_space: bool = False


class Item(msgspec.Struct, frozen=True):
    """A number of one stitch made in a place. An empty `stitch` is whatever the fabric is made of (`inc`, `dec`);
    `together` is how many stitches such an unnamed decrease joins."""

    stitch: str
    amount: Amount
    span: Span
    together: int = 0
    alias: str = ""


class Work(msgspec.Struct, frozen=True):
    """A group of stitches worked into a place, again for every place that `into` names."""

    group: tuple[Item, ...]
    into: Place
    span: Span


class Chain(msgspec.Struct, frozen=True):
    """Chains. `counts` says whether a turning chain counts as a stitch; None where the text is silent.

    `throughout` is true where the text says that this holds from here on. `space` is the chains of a space that a
    counted chain is said to hold beside its stitch, `(counts as dc and ch 2)`. `multiple` are the two numbers of a
    chain that the words leave open, "a multiple of 6 + 4": 6 and 4; empty where they give its number."""

    amount: Amount
    span: Span
    counts: bool | None = None
    throughout: bool = False
    counts_span: Span | None = None
    space: Amount | None = None
    multiple: tuple[int, ...] = ()


class Skip(msgspec.Struct, frozen=True):
    """Places passed over. `what` is the kind of place; `slipped` means that slip stitches lead past them, which make no
    stitches of the row (`slipped_space` up to and into so many chain spaces), and `all_but` that so many are passed
    over as the rest of the row does not need. `first` is true for "skip first st", which a counted turning chain stands
    on already."""

    amount: Amount
    span: Span
    what: str = "stitch"
    first: bool = False


class Times(msgspec.Struct, frozen=True):
    """A group worked again and again.

    `mode`: `fixed` (`amount` times in all), `more` (once, and `amount` more times), `unsaid` (either), `rest` (to
    the end, less `rest` places), `over` (as often as `amount` places hold it). `words` is the span of the words that
    say how often. `name` is set where the body is that of a group the pattern defines. `lost` is true where the words
    go back to a star that does not stand in the row: the body then holds all that may be meant. `colon` is true for a
    number in front of a colon, `2x: inc, sc 2`, which may speak of the first phrase alone or of the whole body.
    `every` is true for the groups of "inc in every 6th st", whose increase may stand in the first stitch of each as
    well as in the last.
    `until` is `corner` or `space` where the repeat stops at the next of them, a space of `length` chains where the
    words say so.

    `ends` tells how the last run of a repeat to the end differs: `last` and `after` where the `tail` nodes behind the
    repeat end it, "ending last rep with sc in last st", "ending dc in tch", and `omit` where the node of the body at
    position `tail` is left out of it.
    """

    body: tuple[Node, ...]
    mode: str
    span: Span
    words: Span
    amount: Amount | None = None
    rest: Amount | None = None
    star: bool = False
    name: str = ""
    lost: bool = False
    until: str = ""
    length: int | None = None
    ends: str = ""
    tail: int = 0
    colon: bool = False
    every: bool = False


class Rate(msgspec.Struct, frozen=True):
    """So many stitches for so many row ends: `3 sc for every 2 rows`. `of` is the stitch of those rows where the words
    tell rows apart, `stitch` what is worked; empty where neither is said."""

    stitches: Amount
    rows: int
    of: str
    stitch: str
    span: Span


class Evenly(msgspec.Struct, frozen=True):
    """Increases or decreases spread over the row, or a number of stitches worked along an edge.

    `act` is `increase`, `decrease` or `work`; `along` is `row`, an edge as `Along` names it, `around` (the round, or
    all edges of a flat piece), `side` (up to the next corner), `sides` (every side between corners) or `top and
    bottom`. Without an amount the edge tells how many, by the `rates` for its row ends where the words give them."""

    act: str
    amount: Amount | None
    stitch: str
    along: str
    span: Span
    rates: tuple[Rate, ...] = ()


class Along(msgspec.Struct, frozen=True):
    """The work goes on along another edge: `chain` (the other side of the foundation chain), `foundation`
    (that chain, named as an edge), `row_ends`, `edge` (one
    that is not told more closely) or `top` (the last row)."""

    edge: str
    span: Span


class Attach(msgspec.Struct, frozen=True):
    """A stitch that joins the work to another motif as it is made: it lies in the chain space around it, and makes no
    stitch. `to` is the words that name the motif, `what` the place of it: `corner`, `space`, `stitch` or empty."""

    to: str
    what: str
    span: Span


class Gather(msgspec.Struct, frozen=True):
    """An opening drawn together by a thread through its stitches; `amount` is how many, None where not said."""

    span: Span
    amount: Amount | None = None


class Ring(msgspec.Struct, frozen=True):
    """A ring to work into: `chains` is empty for a magic ring, else the chain that was joined."""

    span: Span
    chains: Amount | None = None


class Join(msgspec.Struct, frozen=True):
    """The end of a round is joined. `target` is `stitch`, `chain` or empty where the text does not say; `stitch` is the
    stitch that joins where it is no slip stitch, and stands for chains of the last space."""

    span: Span
    target: str = ""
    stitch: str = ""


class Turn(msgspec.Struct, frozen=True):
    """The work is turned; `made` is false for "do not turn"."""

    span: Span
    made: bool = True


class Leave(msgspec.Struct, frozen=True):
    """Places left unworked on purpose: `amount` of them, or all that are left. `only` is true where the words say
    instead on how many the work goes on, "work on these 20 sts only"; `bound` where they are bound off, and no row
    comes back to them."""

    span: Span
    amount: Amount | None = None
    only: bool = False
    bound: bool = False


class Rejoin(msgspec.Struct, frozen=True):
    """The yarn is joined where stitches were passed over or left unworked before.

    `nth` is the place counted along them (the first if None), `row` the label of the row they belong to, if the words
    name one. `what` is `left`, `skipped`, `loops` (those that a row left free, and `loop` which of them), or empty
    where the words do not say why the stitches are free."""

    span: Span
    nth: Amount | None = None
    row: Amount | None = None
    what: str = ""
    loop: str = ""


class Yarn(msgspec.Struct, frozen=True):
    """Something happens to a yarn: `act` is `with`, `change`, `cut`, `stay`, `carry`, `drop`, `keep` or `fasten`.

    `colour` is the yarn's label, empty for the yarn in use; strands worked as one stand with a plus between, `A+A`,
    `A+B`. `at` is the row label after which it happens, if the words name one. `how` tells more of the act: of `with`
    that the yarn is joined anew (`join`); of `carry` whether the stitches are worked over it (`over`), or it goes up
    the side (`up`) or across behind them (`behind`). `strands` is how many of it are cut or dropped, 0 for all.
    `place` is the stitch that the words name for a change, `first`, `next`, `last` or `nth`, empty where they name
    none; `nth` is its number from the front, 1 for the first and the next, and 0 where it is the last or none. It is
    counted in the phrase that the words follow, or in the whole row (`of_row`).
    """

    act: str
    colour: str
    span: Span
    at: Amount | None = None
    words: Span | None = None
    how: str = ""
    strands: int = 0
    place: str = ""
    nth: int = 0
    of_row: bool = False


class Stripes(msgspec.Struct, frozen=True):
    """Colours that take turns over the rows of a line: each with the rows it is worked for, in their order, again and
    again."""

    span: Span
    turns: tuple[tuple[str, int], ...]


class Copy(msgspec.Struct, frozen=True):
    """Rows worked as earlier rows were: `first` to `last` by label, or the `last_rows` rows just before.

    `mode`: `once` (the range says how often), `more` (`amount` more times), `unsaid` (`amount` times), `until`
    (`amount` is the label reached). `part` names the section they stand in, if the words do; then `first` may be
    None, for all of its rows. `side` is true where they are the rows of the side worked just before, or the rest of
    those of the section. `mirror` is true where all shaping is reversed. `ends` is true where the words say with which
    of the rows it ends, so that the last time need not be whole. `short` is how many rows at the end of the piece are
    left out, "to last rnd". `but` are words that change what is worked, "but with 2 more rows", and are not followed.
    `dyed` are yarns that take the place of others, old and new; the old one is empty where the words do not name it.
    """

    span: Span
    first: Amount | None
    last: Amount | None
    mode: str
    last_rows: int = 0
    amount: Amount | None = None
    times_span: Span | None = None
    part: str = ""
    mirror: bool = False
    side: bool = False
    ends: bool = False
    short: int = 0
    but: Span | None = None
    dyed: tuple[tuple[str, str], ...] = ()


class Plain(msgspec.Struct, frozen=True):
    """Rows worked even: `work 5 rnds even`."""

    span: Span
    rows: Amount
    stitch: str


class Beat(msgspec.Struct, frozen=True):
    """One rhythm of shaping among rows that are told and not written.

    `act` is `increase` or `decrease`, `where` in the row it falls: `ends` (both), `start`, `end`, `spread`,
    or `as set` (as in the rows shaped before); `amount` is
    how many stitches at each such place. It falls on the `first` row (counted from the first row of the schedule, or by
    label where `labelled`), then on every `every`-th. `times` is how often; `mode` is `more` where that is after the
    first, `in all` where it takes the first in, `unsaid` where the words leave it open, empty without a number. `then`
    is true for a rhythm that goes on where the one before ended; `edge` is the name of an edge, if the words give one.
    """

    act: str
    where: str
    amount: Amount
    span: Span
    first: Amount | None = None
    labelled: bool = False
    every: Amount | None = None
    times: Amount | None = None
    mode: str = ""
    then: bool = False
    stitch: str = ""
    edge: str = ""
    side: str = ""


class Plan(msgspec.Struct, frozen=True):
    """Rows that are told and not written: a rhythm of shaping, rows worked again, or rounds that grow, up to a goal.

    `base` are rows worked again and again; without them rows are worked even in `stitch`. `grows` is by how many
    stitches more (below nought: fewer) the groups of a row are than those of the row they are made like, `every` after
    how many rows such a row comes. `goal` is the count at which it ends, of `unit`: `stitch`, `total`, `between` (plain
    stitches between increases), `section` (with the increase), `block`, empty where the words leave it open. `rows` is
    their number (`rows_upto` the greatest, in "85 to 90 rows"), `lengths` the length at which they end (`upto` the
    greatest, in "17-18 in"), `since` where that is measured from: `beginning` of the piece, `here`, or empty; `side` is
    that of the last row. `at_once` is true for what is said to happen at the same time; `stripes` are colours that take
    turns. `last` is the label of its last row, "until Row 20", and `goes_on` is true where the words go on with what
    was shaped before, "as set"; `even` where they say that the rows are not shaped, whatever the last one was.
    """

    span: Span
    beats: tuple[Beat, ...]
    base: Copy | None = None
    grows: Amount | None = None
    every: int = 1
    goal: Amount | None = None
    unit: str = ""
    goal_span: Span = Span(0, 0)
    rows: Amount | None = None
    rows_upto: Amount | None = None
    lengths: tuple[Length | None, ...] = ()
    upto: tuple[Length | None, ...] = ()
    since: str = ""
    side: str = ""
    at_once: bool = False
    stitch: str = ""
    stripes: Stripes | None = None
    last: Amount | None = None
    goes_on: bool = False
    even: bool = False


class Stated(msgspec.Struct, frozen=True):
    """A stated count: amounts with what they count (a stitch id, `stitch`, `space`, or a defined name). `rows` are the
    labels of the first and last row that it is told for, `[Rows 4-6: 58 sts]`; None for the row that it stands behind.
    """

    counts: tuple[tuple[Amount, str], ...]
    span: Span
    rows: tuple[int, int] | None = None


class Tail(msgspec.Struct, frozen=True):
    """A tail of yarn left hanging, a length of every size."""

    lengths: tuple[Length | None, ...]
    span: Span


class Note(msgspec.Struct, frozen=True):
    """Words for the maker that ask for no stitch."""

    span: Span


class Unread(msgspec.Struct, frozen=True):
    """Words that made no sense where an instruction stood; `near` is a word they may have meant."""

    span: Span
    word: str
    near: str = ""
    stitch: bool = False


Node = (
    Work
    | Chain
    | Skip
    | Times
    | Evenly
    | Along
    | Attach
    | Gather
    | Ring
    | Join
    | Turn
    | Leave
    | Rejoin
    | Yarn
    | Stripes
    | Copy
    | Plain
    | Plan
    | Stated
    | Tail
    | Note
    | Unread
)


class Label(msgspec.Struct, frozen=True):
    """What stands in front of a row. `first` and `last` are numbers of every size (None: not in this size).

    `kind` is `row` or `round`. `next_rows` is set instead for "Next 3 rnds". `side` is `RS`, `WS` or empty. `numbers`
    are those of a list that is no range, "Rows 7 and 9". `every` is `even`, `odd`, `WS`, `RS`, `alternate` or `all` for
    a rule that speaks of all such rows, and `foundation` for a row that stands before the first. `rows` is how many
    rows a range says it has, "Rnds 11-20 (10R)".
    """

    kind: str
    span: Span
    first: Amount | None = None
    last: Amount | None = None
    next_rows: Amount | None = None
    side: str = ""
    ranged: bool = False
    numbers: tuple[int, ...] = ()
    every: str = ""
    rows: Amount | None = None

    def words(self, size: int) -> str:
        """The first label of the line in a size: `Rnd 3`, empty where the words give no number."""
        number = self.first.at(size) if self.first is not None else None
        return f"{'Rnd' if self.kind == 'round' else 'Row'} {number}" if number is not None else ""


class RowLine(msgspec.Struct, frozen=True):
    """One labelled line of a section: one row, or a range of them."""

    label: Label
    nodes: tuple[Node, ...]
    stated: tuple[Stated, ...]
    span: Span
    sizes: tuple[int, ...]
    colour: str = ""
    loop: str = ""


class Step(msgspec.Struct, frozen=True):
    """A line without a label that still does something: make a ring, chain, seam, cut."""

    nodes: tuple[Node, ...]
    span: Span
    sizes: tuple[int, ...]
    act: str = ""
    stated: tuple[Stated, ...] = ()


class Part(msgspec.Struct, frozen=True):
    """What a heading begins, in the order of the page. `make` is how many are made: one number for all
    sizes, or one for each."""

    name: str
    span: Span
    lines: tuple[RowLine | Step, ...]
    make: tuple[int, ...] = (1,)


class YarnLine(msgspec.Struct, frozen=True):
    """A yarn of the materials: its label, weight word, colour words, and length for a mass, if given."""

    label: str
    span: Span
    words: tuple[str, ...] = ()
    weight: str = ""
    colour: str = ""
    mass_g: Fraction | None = None
    length: Length | None = None
    balls: tuple[Fraction | None, ...] = ()


class Gauge(msgspec.Struct, frozen=True):
    """Stitches and rows over a length; each may be missing. `of` names a part, `fabric` the stitch words."""

    span: Span
    of: str = ""
    stitches: Fraction | None = None
    rows: Fraction | None = None
    over: Length | None = None
    stretched: Length | None = None
    fabric: str = ""


class Definition(msgspec.Struct, frozen=True):
    """A stitch as the pattern defines it.

    `below` is the depth it is worked at, `group` the stitches of a group in one place, `body` what is worked one after
    the other for a group over several places; such a body uses `uses` places and makes `makes` stitches. `lacking` is
    what the last pull-through would take for a stitch that does not close, 0 where no number would do.

    `deep` is how many rows lower the words send the hook, as they say it, and `from_next` is true where that is counted
    from the next stitch. `names` are all its names in the words of the page, `where` is where it is defined: `special`
    (a list of stitches), `list` (abbreviations), `notes` or `row`.
    """

    name: str
    span: Span
    stitch: Stitch | None
    below: int = 0
    group: tuple[Item, ...] = ()
    lacking: int | None = None
    body: tuple[Node, ...] = ()
    uses: int = 1
    makes: int = 1
    names: tuple[str, ...] = ()
    where: str = "special"
    deep: Amount | None = None
    from_next: bool = False


class Fact(msgspec.Struct, frozen=True):
    """A key of the document head with its words.

    `numbers` is the first number in it, one for all sizes or one for each, and `lengths` the same with its unit;
    `lists` are all numbers in it, in order, each one for all sizes or one for each."""

    key: str
    text: str
    span: Span
    lengths: tuple[Length | None, ...] = ()
    numbers: tuple[Fraction | None, ...] = ()
    of: str = ""
    lists: tuple[tuple[Fraction | None, ...], ...] = ()


class DepthNote(msgspec.Struct, frozen=True):
    """A note that depths of long stitches are said with the row being worked counted in, or without it."""

    counted: bool
    span: Span


class CountNote(msgspec.Struct, frozen=True):
    """A note that turning chains of a length (0: all) count or do not count as stitches."""

    chains: int
    counts: bool
    span: Span


class CarryNote(msgspec.Struct, frozen=True):
    """A note on what becomes of a colour that rests within a row: the stitches are worked over it (`over`), it floats
    behind them (`behind`), or each area of colour has a ball of its own (`apart`)."""

    how: str
    span: Span


class HeldNote(msgspec.Struct, frozen=True):
    """A note that several strands are worked as one: `strands` as in a `Yarn`, in the `part` of that name, or in the
    whole pattern where it is empty."""

    strands: str
    part: str
    span: Span


class Pattern(msgspec.Struct, frozen=True):
    """A whole pattern as read. Every field is there for every text; a field that made no sense is empty.

    `language` names the terms it is written in: `US`, `UK`, or those of an older book, which `terms_shown`, words of
    the page, show where it does not say so itself. `definitions` gives for every name the stitch that it means,
    `defined` every definition in the order of the page.
    `turned_rounds` is true where a note says that the work is turned after every round. `held` are the notes on strands
    that are worked as one. `sizing` are its named counts.
    """

    title: str
    sizes: tuple[str, ...]
    language: str
    language_said: bool
    facts: tuple[Fact, ...]
    yarns: tuple[YarnLine, ...]
    gauges: tuple[Gauge, ...]
    hook_mm: Fraction | None
    definitions: Mapping[str, Definition]
    count_notes: tuple[CountNote, ...]
    parts: tuple[Part, ...]
    sizes_span: Span | None = None
    depth_note: DepthNote | None = None
    defined: tuple[Definition, ...] = ()
    carrying: tuple[CarryNote, ...] = ()
    turned_rounds: bool = False
    terms_shown: tuple[str, ...] = ()
    held: tuple[HeldNote, ...] = ()
    sizing: Sizing = Sizing()
