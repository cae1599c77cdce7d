"""Pieces worked as others were: `work as for left front, reversing shaping`, `complete to match first side`."""

from __future__ import annotations

import re
from collections.abc import Iterable

from roundhand.notation.cursor import Cursor
from roundhand.notation.tokens import Token
from roundhand.notation.tree import Amount, Copy

# What opens such a sentence, and what leads to the piece that it names.
_OPENS = frozenset(
    ("work", "working", "make", "same", "as", "complete", "finish", "repeat", "rep", "crochet", "continue",
     "cont", "the", "second", "other", "this", "follow", "following", "mirror", "mirrored", "a", "worked", "made",
     "reverse", "now", "then", "like", "in", "exactly")
)  # fmt: skip
_LINKS = frozenset(
    ("as", "for", "match", "matching", "correspond", "corresponding", "symmetry", "symmetrical", "symmetrically",
     "like", "instructions", "directions", "mirror", "same", "of", "to")
)  # fmt: skip
_MIRRORS = ("revers", "mirror", "symmetr", "correspond", "match")
_SHAPES = frozenset(("side", "half", "shoulder", "front", "strap", "one", "piece", "edge", "point", "flap", "sleeve"))
_ENDS = frozenset(("until", "reversing", "reverse", "reversed", "but", "mirroring", "through", "up", "except"))
# What leads to words that tell more of a piece than which it is.
_MORE = frozenset(
    ("but", "joining", "attaching", "connecting", "using", "with", "in", "omitting", "except", "working", "changing",
     "replacing", "replace", "change", "substitute", "making", "adding", "without", "substituting")
)  # fmt: skip
_JOINS = ("join", "attach", "connect")
_ALTERS = ("instead", "omit", "except", "replac", "more", "fewer", "less", "longer", "shorter", "without", "chang",
           "substitut", "add", "extra")  # fmt: skip
_BESIDE_YARN = frozenset(("color", "colour", "yarn", "the", "throughout", "only", "all", "through"))
_UP_TO = frozenset(("to", "until", "till", "but", "except", "omitting", "omit", "before"))
_ROWS = ("row", "round", "row_or_round")
_ROW_LAST = re.compile(r"\b(?:rows?|rnds?|rounds?)$", re.IGNORECASE)
_LONGEST = 40


def read_likewise(cursor: Cursor) -> Copy | None:
    """A sentence that has a whole piece, or the rows of a side, worked once more; None (nothing taken) for any other.

    A piece is known by a heading of the page; "first side" is whatever was worked before the yarn was joined anew."""
    start = cursor.position
    if start >= cursor.end or cursor.low[start].split(None, 1)[0] not in _OPENS:
        return None
    words = _sentence(cursor)
    low = " ".join(token.text.lower() for token in words).split()
    if low[:1] in (["repeat"], ["rep"]) and any(word.startswith("revers") for word in low):
        # "Repeat left front, reversing shaping" names its piece without a link.
        low = [low[0], "for", *low[1:]]
    if not low or low[0] not in _OPENS or not _LINKS.intersection(low):
        return None
    mirror = any(word.startswith(_MIRRORS) for word in low)
    along = [token for token in words if token.kind == "word" and token.value in ("row_end", "edge", "ring")]
    if any(token.text.lower() != "side" for token in along):
        return None
    name = _section(low, cursor.lexicon.sections)
    told = _told(cursor, words, name)
    if not mirror and any(_asks_work(words, at) for at in range(told if name else len(words))):
        # "Work 54 sc along the band": an instruction of its own.
        return None
    joins = _joins(words[told:])
    short = _short(words)
    rows = _rows(cursor, words[:told] if joins else words) if not short else None
    dyed = _dyed(words[told:])
    changed = _changes(words[told:]) and not (joins or mirror or short or dyed)
    side = not name and rows is None and _names_side(low) and (mirror or "first" in low or "other" in low)
    if not name and not side:
        name = _unknown(low) if any(word.startswith("revers") for word in low) and rows is None else ""
        if not name:
            return None
    cursor.position = start + len(words)
    span = cursor.since(start)
    first, last = rows if rows is not None else (None, None)
    # Of a named piece the rest is worked where some of it is worked already: "complete as for first side".
    rest = low[0] in ("complete", "finish", "continue", "cont")
    but = words[told].span.to(words[-1].span) if changed else None
    side = side or rest
    return Copy(span, first, last, "once", part=name, mirror=mirror, side=side, short=short, but=but, dyed=dyed)


def _sentence(cursor: Cursor) -> list[Token]:
    found: list[Token] = []
    for token in cursor.tokens[cursor.position : min(cursor.end, cursor.position + _LONGEST)]:
        if token.kind == "mark" and token.text in (".", ";", ":", "("):
            break
        found.append(token)
    return found


def _told(cursor: Cursor, words: list[Token], name: str) -> int:
    """Where the words end that say which piece is meant, and those begin that tell more of it: ", joining it to the
    first", "but with B"."""
    led = next((at for at, token in enumerate(words) if _LINKS.intersection(token.text.lower().split())), 0)
    begin = words[led].start
    said = r"\s+".join(re.escape(word) for word in name.split())
    found = re.compile(rf"\b{said.removesuffix('s')}(?:es|s)?\b", re.IGNORECASE).search(
        cursor.text, begin, words[-1].end
    )
    behind = found.end() if name and found is not None else words[led].end
    for at, token in enumerate(words):
        if token.start >= behind and (token.text == "," or token.text.lower() in _MORE):
            return at
    return len(words)


def _is_row(token: Token) -> bool:
    """Whether a word speaks of rows, alone or with what leads to them: `rnd`, `to end of Rnd`."""
    return token.kind == "word" and (token.value in _ROWS or _ROW_LAST.search(token.text) is not None)


def _asks_work(words: list[Token], at: int) -> bool:
    """Whether a word names a stitch, or a place by its number; a row by its number is none."""
    token = words[at]
    after = words[at + 1] if at + 1 < len(words) else None
    if token.kind == "ordinal":
        return not (after is not None and _is_row(after))
    return token.kind in ("stitch", "defined")


def _joins(words: list[Token]) -> bool:
    """Whether what is told more is that the piece is joined to another as it is made."""
    low = [token.text.lower() for token in words]
    return any(word.startswith(_JOINS) for word in low[:3])


def _dyed(words: list[Token]) -> tuple[tuple[str, str], ...]:
    """`using B`, `with B instead of A`, `replacing A with B`: which yarn takes the place of which; empty where
    more than that is said."""
    told = [token for token in words if token.text.lower() not in _BESIDE_YARN and token.kind != "mark"]
    said = ["?" if token.kind == "colour" else token.text.lower() for token in told]
    labels = [token.value for token in told if token.kind == "colour"]
    words_said = " ".join(said)
    if re.fullmatch(r"(?:using|with|in|but (?:using|with|in|work in)|working (?:in|with)) \?", words_said):
        return (("", labels[0]),)
    if re.fullmatch(r"(?:but )?(?:using|with|in) \? (?:instead of|in place of|instead|for) \?", words_said):
        return ((labels[1], labels[0]),)
    if re.fullmatch(r"(?:but )?(?:replacing|changing|replace|change) \? (?:with|by|to|for) \?", words_said):
        return ((labels[0], labels[1]),)
    if re.fullmatch(r"(?:but )?(?:substituting|substitute) \? for \?", words_said):
        return ((labels[1], labels[0]),)
    return ()


def _changes(words: list[Token]) -> bool:
    """Whether what is told more changes what is worked: another yarn or stitch, so many rows more."""
    for at, token in enumerate(words):
        before = words[at - 1] if at else None
        number = token.kind == "number" and not (before is not None and _is_row(before))
        if number or token.kind in ("stitch", "defined", "colour") or token.text.lower().startswith(_ALTERS):
            return True
    return False


def _short(words: list[Token]) -> int:
    """`to last rnd`, `omitting the last 2 rows`: how many rows at the end are left out."""
    for at, token in enumerate(words):
        if token.text.lower() not in _UP_TO:
            continue
        rest = [one for one in words[at + 1 : at + 5] if one.text.lower() not in ("the", "end", "of")]
        if not rest or rest[0].text.lower() not in ("last", "final"):
            continue
        number = rest[1].number if len(rest) > 1 and rest[1].kind == "number" else None
        row = rest[2 if number is not None else 1 :][:1]
        if row and _is_row(row[0]):
            return number or 1
    return 0


def _section(low: list[str], sections: Iterable[str]) -> str:
    """The longest heading of the page that stands in the sentence behind a word that leads to it."""
    best = ""
    led = next((at for at, word in enumerate(low) if word in _LINKS), len(low))
    text = " " + " ".join(" ".join(low[led:]).replace(",", " ").split()) + " "
    for name in sections:
        said = " ".join(name.lower().split())
        if len(said) > len(best) and any(f" {form} " in text for form in (said, said + "s", said.removesuffix("s"))):
            best = name
    return best


def _rows(cursor: Cursor, words: list[Token]) -> tuple[Amount | None, Amount] | None:
    """`Rows 1-20 of`, `to Row 20`, `through Rnd 12`: the rows that are meant, from the first if only an end is said."""
    start = cursor.position
    for at, token in enumerate(words):
        if _is_row(token):
            cursor.position = start + at + 1
            first = cursor.amount()
            last = None
            while first is not None and (
                cursor.mark("-", "\u2013", ",", "&")
                or cursor.word("to", "through")
                or cursor.low[cursor.position : cursor.position + 1] == ["and"]
            ):
                # "Rnds 1-3", "Rnds 1 and 2", "Rnds 1, 2, and 3"
                listed = not cursor.mark("-", "\u2013") and not cursor.word("to", "through")
                cursor.position += 1
                cursor.take_name("and", "&")
                cursor.take_word(*_ROWS)
                further = cursor.amount()
                if further is None or (listed and not _next_to(last or first, further)):
                    break
                last = further
            cursor.position = start
            before = words[at - 1] if at else None
            if first is None:
                many = before is not None and (before.number if before.kind == "number" else 1)
                lead = words[at - 2 if before is not None and before.kind == "number" else at - 1].text.lower()
                if at and many and lead in ("first", "1st"):
                    # "Work first 3 rnds as for square"
                    return None, Amount((many,), token.span)
                continue
            ends = token.text.lower().startswith("to ") or (
                before is not None and before.text.lower() in ("to", "through", "until", "thru", "of", "with")
            )
            if last is None:
                return (None, first) if ends else (first, first)
            return first, last
    return None


def _next_to(one: Amount, other: Amount) -> bool:
    """Whether a row is the one behind another, in every size."""
    pairs = zip(one.values, other.values, strict=False)
    return all(low is not None and high is not None and high == low + 1 for low, high in pairs)


def _names_side(low: list[str]) -> bool:
    """`first side`, `the other half`, `to match first`, `to correspond`."""
    shape = any(word in _SHAPES for word in low)
    return (shape and any(word in ("first", "other", "second", "previous", "opposite", "1st") for word in low)) or (
        "first" in low and any(word.startswith(("match", "correspond")) for word in low)
    )


def _unknown(low: list[str]) -> str:
    """The words that name a piece which no heading has, so that it can be said: `left wing`."""
    for at, word in enumerate(low):
        if word in ("as", "for", "match", "like", "of", "to"):
            rest = [other for other in low[at + 1 :] if other not in _LINKS and other not in ("the", "a", "given")]
            end = next((end for end, other in enumerate(rest) if other in _ENDS or not other.isalpha()), len(rest))
            if 0 < end <= 4:
                return " ".join(rest[:end])
    return ""
