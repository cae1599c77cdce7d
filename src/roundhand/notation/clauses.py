"""The words of a row, read clause by clause into nodes.

Reading never fails: a clause that makes no sense becomes an `Unread` node, and the reader goes on at the next
separator. A sentence that asks for no stitch, count or colour becomes a `Note`.
"""

from __future__ import annotations

import msgspec

from roundhand.findings import Span
from roundhand.notation import yarns
from roundhand.notation.beginnings import read_yarn_joined
from roundhand.notation.binding_off import read_bound_off
from roundhand.notation.counts import bracket_count, spoken_count, trailing_count
from roundhand.notation.cursor import Cursor
from roundhand.notation.depths import read_below
from roundhand.notation.edges import read_along
from roundhand.notation.endings import read_ending
from roundhand.notation.folding import fold
from roundhand.notation.groups import items_of, read_bracket, read_times_first
from roundhand.notation.holding import goes_on, read_also_left, read_leave, read_left, read_only, read_rejoin, with_left
from roundhand.notation.joining import read_attach, read_gathering, read_replaced
from roundhand.notation.joins import (
    joins_round,
    read_counting_words,
    read_join,
    read_not,
    read_skip,
    read_standing_chain,
)
from roundhand.notation.likewise import read_likewise
from roundhand.notation.named_places import read_left_free, read_loops_left, read_named_row
from roundhand.notation.phrases import by_place, read_misspelt, read_posted, read_stitches
from roundhand.notation.pieces import SILENT, Again, Loop, Piece, Pieces, Star
from roundhand.notation.places import read_place
from roundhand.notation.rates import read_rate_clause, read_rates_behind
from roundhand.notation.reach import to_separator
from roundhand.notation.references import copies_behind, read_copy, read_plain
from roundhand.notation.repeats import read_again, repeats_rows, settled
from roundhand.notation.sentences import is_prose, opening_note
from roundhand.notation.shaping import read_evenly, read_shape
from roundhand.notation.spaces_too import read_chains_over, read_spaces_too
from roundhand.notation.strands import read_holding
from roundhand.notation.stripes import read_stripes
from roundhand.notation.tree import (
    Along,
    Amount,
    Evenly,
    Item,
    Node,
    Note,
    Place,
    Ring,
    Skip,
    Stated,
    Times,
    Turn,
    Unread,
    Work,
    Yarn,
)
from roundhand.notation.tunisian import read_drawn_up, read_return
from roundhand.notation.units import read_loop, read_unit
from roundhand.notation.whole_row import read_every_skipped

_DASHES = "=-\u2013\u2014\u2212\u2192\u21d2"


def read_clauses(cursor: Cursor, first: bool = True) -> tuple[list[Node], list[Stated]]:
    """The nodes of the words at the cursor up to the end of its line, and the counts that they state of all of it.

    A count on the way, "dc in next 8 ch (8 dc), *skip 2 ...", stays where it stands among the nodes.
    """
    pieces = Pieces()
    while cursor.position < cursor.end:
        start, before = cursor.position, len(pieces)
        _sentence(cursor, pieces, first)
        sentence = pieces[before:]
        if sentence and all(isinstance(piece, SILENT) for piece in sentence):
            unread: list[Piece] = [piece for piece in sentence if isinstance(piece, Unread) and piece.stitch]
            pieces[before:] = unread if unread and not is_prose(cursor, start) else [Note(cursor.since(start))]
        if cursor.position == start:
            cursor.position += 1
    nodes = fold(pieces)
    way = [
        node for at, node in enumerate(nodes) if isinstance(node, Stated) and _goes_on(cursor, node, nodes[at + 1 :])
    ]
    stated = [node for node in nodes if isinstance(node, Stated) and node not in way]
    return [node for node in nodes if not isinstance(node, Stated) or node in way], stated


def _goes_on(cursor: Cursor, stated: Stated, later: list[Node]) -> bool:
    """Whether a sentence goes on with further stitches behind a count, which then is no count of the whole row."""
    after = next((token for token in cursor.tokens if token.start >= stated.span.end), None)
    if after is None or after.text == ".":
        return False
    return any(
        isinstance(node, Times | Evenly)
        or (isinstance(node, Work) and any(item.stitch != "slip_stitch" for item in node.group))
        for node in later
    )


def _sentence(cursor: Cursor, pieces: Pieces, first: bool) -> None:
    """Reads up to the next full stop outside brackets into `pieces`, which hold the sentences before."""
    said = (
        read_likewise(cursor)
        or read_only(cursor)
        or spoken_count(cursor, first and not pieces.stitched)
        or opening_note(cursor)
    )
    if said is not None:
        pieces.append(said)
        return
    while cursor.position < cursor.end:
        word = cursor.low[cursor.position]
        if word == ".":
            cursor.position += 1
            break
        if word == "," and not _asks_on(pieces):
            cursor.position += 1
            continue
        _clause(cursor, pieces, first and not pieces.worked, 0)


def _asks_on(pieces: Pieces) -> bool:
    """Whether words behind a comma may still belong to what was read last; mostly a comma says nothing."""
    last = pieces[-1] if pieces else None
    return isinstance(last, Evenly) or (isinstance(last, Work) and last.into.kind == "each")


def _clause(cursor: Cursor, pieces: Pieces, first: bool, depth: int) -> None:
    """Reads one clause into `pieces`; always moves on."""
    start = cursor.position
    token = cursor.tokens[start]
    last = pieces[-1] if pieces else None
    if isinstance(last, Work) and last.into.kind == "each" and read_also_left(cursor) is not None:
        pieces[-1] = with_left(last)
    elif (token.text == "=" or token.value in ("for", "to")) and read_standing_chain(cursor, pieces):
        pass
    elif (
        read_spaces_too(cursor, pieces)
        or read_chains_over(cursor, pieces)
        or (isinstance(last, Evenly) and _rated(cursor, pieces, last))
        or (
            token.kind != "mark"
            and (read_attach(cursor, pieces) or _edge_first(cursor, pieces, first) or read_rate_clause(cursor, pieces))
        )
    ):
        return
    elif token.text.lower() == "to" and isinstance(last, Work) and last.group[0].stitch == "slip_stitch":
        # "sl st in next 2 sts to level the step": what the slip stitches are for.
        pieces.append(Note(to_separator(cursor)))
    elif token.kind == "mark":
        _mark(cursor, pieces, first, depth)
    elif token.kind == "number" and (
        read_times_first(cursor, pieces, first, depth, _clause) or _depth_behind(cursor, pieces)
    ):
        pass
    elif (token.kind == "number" or cursor.word("remaining", "last")) and (left := read_left(cursor)) is not None:
        pieces.append(left)
    elif token.kind == "stitch" and (plain := read_plain(cursor)) is not None:
        pieces.append(plain)
    elif (back := read_return(cursor, pieces)) is not None:
        pieces.append(back)
    elif read_drawn_up(cursor, pieces):
        pass
    elif token.kind in ("number", "stitch", "defined"):
        read_stitches(cursor, pieces, first)
    elif token.kind == "colour":
        pieces.append(yarns.bare_colour(cursor))
    elif token.kind == "word":
        _word(cursor, pieces, first, depth)
    elif token.kind == "ordinal":
        cursor.position += 1
    else:
        _name(cursor, pieces)
    if cursor.position == start:
        cursor.position += 1


def _mark(cursor: Cursor, pieces: Pieces, first: bool, depth: int) -> None:
    token = cursor.tokens[cursor.position]
    if token.text.startswith("*"):
        cursor.position += 1
        opened = pieces.starred
        pieces.append(Star(token.span, len(token.text) > 1))
        if opened and len(token.text) == 1:
            _after_star(cursor, pieces)
    elif token.text in "([{":
        read_bracket(cursor, pieces, first, depth, _clause)
    elif token.text in _DASHES and not first:
        stated = trailing_count(cursor, first)
        if stated is not None:
            pieces.append(stated)
        else:
            cursor.position += 1
    else:
        cursor.position += 1


def _rated(cursor: Cursor, pieces: Pieces, last: Evenly) -> bool:
    """`sc evenly along row ends, working 2 sc in each dc row`: the rate behind stitches whose number is left open."""
    if last.act != "work" or last.amount is not None or last.rates:
        return False
    rates = read_rates_behind(cursor, last.along in ("around", "sides"))
    if not rates:
        return False
    along = "row_ends" if last.along in ("row", "edge") else last.along
    pieces[-1] = msgspec.structs.replace(last, rates=rates, along=along)
    return True


def _edge_first(cursor: Cursor, pieces: Pieces, first: bool) -> bool:
    """An edge said in front of what is worked along it: `working along opposite side of chain, sc in each ch`, `along
    the left edge, work 24 sc`, `pick up 227 sts along edge`; False (and nothing taken) where none is."""
    start = cursor.position
    if cursor.take_word("pick_up") and (picked := _picked_up(cursor, start)) is not None:
        pieces.append(picked)
        return True
    cursor.position = start
    along = read_along(cursor)
    if along is None:
        return False
    edge, span = along
    if edge in ("around", "sides") and cursor.token is not None and not cursor.mark(","):
        cursor.position = start
        return False
    if edge == "around":
        pieces.append(Note(span))
        return True
    at = cursor.position
    if edge in ("edge", "row_ends", "top") and _number_follows(cursor):
        rated = Pieces((Along(edge, span),))
        if read_rate_clause(cursor, rated):
            pieces += rated
            return True
        inner = Pieces()
        if read_stitches(cursor, inner, first) and len(inner) == 1:
            work = inner[0]
            if isinstance(work, Work) and work.into.bare and len(work.group) == 1:
                pieces.append(Evenly("work", work.into.count, work.group[0].stitch, edge, cursor.since(start)))
                return True
        cursor.position = at
    pieces.append(Along(edge, span))
    return True


def _number_follows(cursor: Cursor) -> bool:
    """Moves to a number of stitches behind an edge, past `, work`; False where something else follows."""
    if cursor.mark(",", ":"):
        cursor.position += 1
    cursor.take_word("work")
    return cursor.at("number")


def _picked_up(cursor: Cursor, start: int) -> Evenly | None:
    """`pick up 227 sts along edge`, `pick up and sc 60 along the neck edge`: stitches along an edge."""
    cursor.take_word("and")
    cursor.take_word("work")
    stitch = cursor.take().value if cursor.at("stitch") else ""
    amount = cursor.amount()
    if amount is None:
        return None
    if cursor.at("stitch"):
        stitch = cursor.take().value
    cursor.take_word("stitch")
    picked = read_evenly(cursor, start, "work", amount, stitch)
    return msgspec.structs.replace(picked, along="edge") if picked.along == "row" else picked


def _after_star(cursor: Cursor, pieces: Pieces) -> None:
    """How often, behind a star that closes: `*sc 3, inc* x 6`, `*sc 3, inc* around`."""
    start = cursor.position
    times = cursor.times()
    if times is not None:
        mode, amount, span = times
        pieces.append(Again(span, settled(mode), amount, None, True))
        return
    if cursor.word("around", "across", "to", "until"):
        place = read_place(cursor)
        if place is not None and place.kind == "each":
            pieces.append(Again(place.span, "rest", None, place.rest, True))
            return
    cursor.position = start


def _depth_behind(cursor: Cursor, pieces: Pieces) -> bool:
    """`sc in next 4 sts, 3 rows below`: how deep, said behind a comma; False (nothing taken) for any other number."""
    start = cursor.position
    last = pieces[-1] if pieces else None
    below = read_below(cursor)
    if below is None or not isinstance(last, Work) or last.into.below is not None:
        cursor.position = start
        return False
    place = msgspec.structs.replace(last.into, below=below)
    group = tuple(msgspec.structs.replace(item, stitch=by_place(item.stitch, place)) for item in last.group)
    pieces[-1] = Work(group, place, last.span.to(below.span))
    return True


# Words with a meaning of their own.


def _word(cursor: Cursor, pieces: Pieces, first: bool, depth: int) -> None:
    token = cursor.tokens[cursor.position]
    concept = token.value
    if concept == "repeat":
        _repeat(cursor, pieces)
    elif concept == "skip" and (passed := read_every_skipped(cursor)) is not None:
        pieces.append(passed)
    elif concept == "skip":
        read_skip(cursor, pieces)
    elif concept in ("join", "attach") and (rejoined := read_rejoin(cursor)) is not None:
        pieces += rejoined
    elif concept in ("join", "attach") and read_yarn_joined(cursor, pieces):
        pass
    elif concept == "join" or (concept == "attach" and joins_round(cursor, pieces)):
        read_join(cursor, pieces)
    elif concept == "turn":
        cursor.position += 1
        pieces.append(Turn(token.span))
    elif concept == "alternate" and (stripes := read_stripes(cursor)) is not None:
        pieces.append(stripes)
    elif concept == "not":
        read_not(cursor, pieces)
    elif concept in ("increase", "decrease"):
        read_shape(cursor, pieces, None, "")
    elif (concept == "stay" and goes_on(cursor, pieces)) or (concept == "bind_off" and read_bound_off(cursor, pieces)):
        pass
    elif concept in yarns.ACTS:
        pieces += yarns.read_yarn(cursor)
    elif concept in ("counts", "counts_not"):
        read_counting_words(cursor, pieces)
    elif concept == "ring":
        cursor.position += 1
        pieces.append(Ring(token.span))
    elif concept in ("back_loop", "front_loop", "both_loops", "third_loop"):
        loop = read_loop(cursor) or ""
        if cursor.at("stitch") or cursor.at("number"):
            read_stitches(cursor, pieces, first, loop)
        else:
            pieces.append(Loop("" if loop == "both" else loop, token.span))
    elif concept in ("front_post", "back_post"):
        read_posted(cursor, pieces, None, cursor.position)
    elif concept in ("work", "plain", "as"):
        _work(cursor, pieces)
    elif concept in ("in", "each", "next", "over") or (
        concept in ("around", "across") and _goes_across(cursor, pieces)
    ):
        _place_first(cursor, pieces, first, depth)
    elif concept in ("weave", "gather"):
        pieces.append(read_gathering(cursor))
    elif concept == "leave" and (leave := read_leave(cursor)) is not None:
        pieces.append(leave)
    elif concept in ("marker", "seam", "leave"):
        pieces.append(Note(to_separator(cursor)))
    else:
        cursor.position += 1
        if concept == "total":
            stated = trailing_count(cursor, False)
            if stated is not None:
                pieces.append(stated)


def _repeat(cursor: Cursor, pieces: Pieces) -> None:
    copy = read_copy(cursor) if repeats_rows(cursor) else None
    pieces.append(copy if copy is not None else read_again(cursor))
    if copy is not None:
        pieces += copies_behind(cursor)
    if copy is None and (ending := read_ending(cursor)) is not None:
        pieces.append(ending)


def _work(cursor: Cursor, pieces: Pieces) -> None:
    """`work …`: rows worked even, rows worked as others, or only a word in front of a stitch."""
    start = cursor.position
    only = read_only(cursor)
    if only is not None:
        pieces.append(only)
        return
    plain = read_plain(cursor)
    if plain is not None:
        pieces.append(plain)
        return
    copy = read_copy(cursor)
    if copy is not None:
        pieces.append(copy)
        return
    token = cursor.take()
    covered = yarns.read_over(cursor)
    if covered is not None:
        pieces.append(covered)
        return
    if token.text.lower() == "working" and _last_placed(cursor, pieces):
        # "1 tr in each tr to end, working last tr in 3rd of 3ch": one of those, and no stitch more.
        pieces.append(Note(to_separator(cursor)))
        return
    if token.text.lower() == "working" and (cursor.word("over") or _beside_work(cursor)):
        # "working over the ch-1 sp", "working in front of dc just made": how the stitches that follow lie.
        to_separator(cursor)
        pieces.append(Note(cursor.since(start)))
        return
    if token.value == "plain":
        pieces.append(_even(cursor, token.span, start))
        return
    if token.value == "work":
        cursor.take_word("the")
        if cursor.word("ring"):
            pieces.append(Ring(cursor.take().span))
            return
        after = cursor.ahead()
        ends = (
            after is None
            or after.kind == "mark"
            or (after.kind == "word" and after.value in ("around", "across", "in"))
        )
        if cursor.word("plain", "evenly") and ends:
            pieces.append(_even(cursor, cursor.take().span, start))
            return
        if _to_last(cursor, pieces, token.span, start):
            return
        at = cursor.position
        if cursor.take_word("in", "through", "over") or cursor.take_name("along", "around", "behind"):
            loop = _said_loop(cursor, start)
            if loop is not None and (
                cursor.token is None or cursor.token.kind in ("mark", "name") or cursor.word("throughout", "around")
            ):
                cursor.take_word("throughout", "around", "across")
                pieces.append(loop)
                return
        cursor.position = at


def _to_last(cursor: Cursor, pieces: Pieces, word: Span, start: int) -> bool:
    """`work to last 3 sts`: the stitch of the fabric, with so many left; False (nothing taken) for other words."""
    at = cursor.position
    place = read_place(cursor) if cursor.word("to", "until", "across", "around") else None
    if place is None or place.kind != "each" or place.rest is None:
        cursor.position = at
        return False
    pieces.append(Work((Item("", Amount((1,), word), word),), place, cursor.since(start)))
    return True


def _last_placed(cursor: Cursor, pieces: Pieces) -> bool:
    """Whether `last tr in 3rd of 3ch` stands here, behind stitches that are worked into all that is left: where one of
    them goes. Moves over nothing."""
    last = pieces[-1] if pieces else None
    whole = (isinstance(last, Work) and last.into.kind == "each") or (
        isinstance(last, Times | Again) and last.mode == "rest"
    )
    start = cursor.position
    cursor.take_word("the")
    placed = whole and cursor.take_word("last", "first") and (cursor.at("stitch") or cursor.word("stitch"))
    cursor.position = start
    return bool(placed)


def _beside_work(cursor: Cursor) -> bool:
    """Whether `in front of`, `behind`, `in back of` and what has just been made stand here; loops are a place."""
    start = cursor.position
    lies = cursor.take_name("behind") or (cursor.take_word("in") and cursor.take_name("front", "back"))
    plain = lies and (cursor.word("of") or cursor.token is None or cursor.mark(",", ";", "."))
    plain = plain or (lies and not cursor.word("loop", "back_loop", "front_loop", "layers"))
    cursor.position = start
    return bool(plain)


def _said_loop(cursor: Cursor, start: int) -> Loop | None:
    """`back loops only`, `the unused front loops of Rnd 3`, `both layers`: what holds for the stitches that follow."""
    cursor.take_word("the")
    layers = cursor.take_word("layers")
    free = None if layers else read_loops_left(cursor)
    loop = "layers" if layers else free if free is not None else read_loop(cursor)
    if loop is None:
        return None
    if layers:
        cursor.take_word("throughout")
    at = cursor.position
    named = free is None and cursor.take_word("of")
    while named and cursor.take_word("the", "beginning"):
        pass
    if named and read_unit(cursor) == "chain":
        # "the bumps at the back of the chain".
        cursor.take_word("around", "across")
    else:
        cursor.position = at
    row = read_named_row(cursor, free is not None)
    left = read_left_free(cursor) or free is not None
    return Loop("" if loop == "both" else loop, cursor.since(start), row, left)


def _even(cursor: Cursor, word: Span, start: int) -> Work:
    """The rest of `work even`, `work even in sc around`: every stitch as it comes, or as the stitch named."""
    stitch = ""
    if cursor.word("in") and (named := cursor.ahead()) is not None and named.kind == "stitch":
        stitch = named.value
        cursor.position += 2
    place = read_place(cursor) or Place("each", word)
    return Work((Item(stitch, Amount((1,), word), word),), place, cursor.since(start))


def _goes_across(cursor: Cursor, pieces: Pieces) -> bool:
    """`sc in 2nd ch from hook and across`: "and" before a bare "across" leads the stitch on into all places left."""
    before = cursor.ahead(-1)
    last = pieces[-1] if pieces else None
    led = before is not None and before.kind == "word" and before.value == "and"
    return led and isinstance(last, Work) and last.into.kind not in ("each", "row_ends")


def _place_first(cursor: Cursor, pieces: Pieces, first: bool, depth: int) -> None:
    """A place before its stitches: `in next st, (sc, ch 2, sc)`, `in back loops only, sc in each st around`."""
    start = cursor.position
    if cursor.take_word("in"):
        loop = _said_loop(cursor, start)
        if loop is not None and loop.loop != "layers" and not cursor.word("of", "next", "each", "the"):
            pieces.append(loop)
            return
        if cursor.at("colour"):
            cursor.position = start
            pieces += yarns.read_yarn(cursor)
            return
        cursor.position = start
    place = read_place(cursor)
    if place is None:
        cursor.position = start + 1
        return
    last = next((piece for _, piece in pieces.backwards() if not isinstance(piece, Yarn | Note)), None)
    behind = cursor.position
    counted = cursor.mark("(", "[") and bracket_count(cursor, True) is not None
    cursor.position = behind
    comma = cursor.mark(",")
    if comma:
        cursor.position += 1
    cursor.take_word("work")
    also = isinstance(last, Work) and (not comma or cursor.tokens[start - 1].value == "and")
    if cursor.mark("(", "[") and not counted and not also:
        inner = Pieces()
        read_bracket(cursor, inner, first, depth + 1, _clause)
        group = items_of(inner[0].body) if inner and isinstance(inner[0], Times) else None
        if group is not None:
            pieces.append(Work(group, place, cursor.since(start)))
        else:
            pieces += inner
        return
    if isinstance(last, Work) and not (comma and _leads_stitch(cursor) and cursor.tokens[start - 1].value != "and"):
        # "sc in 2nd ch from hook and in each ch across": the stitch before goes on into the new place.
        cursor.position = behind
        if last.into.kind == "from_hook" and not place.loop:
            place = msgspec.structs.replace(place, loop=last.into.loop)
        pieces.append(Work(last.group, place, cursor.since(start)))
        return
    inner = Pieces()
    if (_leads_stitch(cursor)) and read_stitches(cursor, inner, first):
        work = inner[-1] if inner else None
        if isinstance(work, Work) and work.into.kind == "next" and len(inner) == 1:
            item = work.group[0]
            if work.into.count is not None and item.amount.values == (1,):
                item = msgspec.structs.replace(item, amount=work.into.count)
            pieces.append(Work((item,), place, cursor.since(start)))
            return
        if isinstance(work, Work) and place.kind == "from_hook" and len(inner) == 1:
            # "Starting in 2nd ch from hook, sc in each ch across."
            if work.into.kind == "each":
                pieces.append(Work(work.group, place, place.span))
            elif place.count is not None:
                passed = tuple(value - 1 if value else None for value in place.count.values)
                pieces.append(Skip(Amount(passed, place.span), place.span, "chain"))
        pieces += inner


def _leads_stitch(cursor: Cursor) -> bool:
    return cursor.at("number") or cursor.at("stitch") or cursor.at("defined")


# How older books say where the hook goes for a whole row: "taking up back loop only", "inserting hook through both".
_TAKING = frozenset(("taking", "inserting", "catching", "picking"))


def _taken_up(cursor: Cursor) -> Loop | None:
    """`taking up back loop only`, `inserting hook in the back loops`: the loop of all stitches of the row; None (and
    nothing taken) for other words."""
    start = cursor.position
    cursor.position += 1
    while cursor.take_name("up", "hook", "always", "only", "the", "through") or cursor.take_word(
        "the", "in", "through"
    ):
        pass
    loop = _said_loop(cursor, start)
    if loop is None or not (cursor.token is None or cursor.token.kind == "mark"):
        cursor.position = start
        return None
    return loop


def _name(cursor: Cursor, pieces: Pieces) -> None:
    """A word without a meaning here: filler is passed over, anything else is kept as unread."""
    held = read_holding(cursor) or read_replaced(cursor)
    if held is not None:
        pieces.append(held)
        return
    if cursor.low[cursor.position] in _TAKING and (loop := _taken_up(cursor)) is not None:
        pieces.append(loop)
        return
    if cursor.low[cursor.position] in ("placing", "making", "putting"):
        at = cursor.position
        cursor.position += 1
        if _last_placed(cursor, pieces):
            pieces.append(Note(to_separator(cursor)))
            return
        cursor.position = at
    if cursor.tokens[cursor.position].text.lower() in ("continue", "cont", "continuing") and goes_on(cursor, pieces):
        return
    token = cursor.tokens[cursor.position]
    if token.text.lower() == "instead" and pieces:
        # "ending last rep with sc in last st instead of 2 dc": what it stands for is not worked.
        pieces.append(Note(to_separator(cursor)))
        return
    if token.value in cursor.lexicon.words.filler:
        cursor.position += 1
        return
    before = cursor.ahead(-1)
    heads = before is None or before.kind == "mark" or (before.kind == "word" and before.value in ("and", "work"))
    if heads and read_misspelt(cursor, pieces, None, cursor.position, ""):
        return
    cursor.position += 1
    pieces.append(Unread(token.span, token.text))
