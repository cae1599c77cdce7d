"""A line cut into words with their meanings and places.

The tokens of a text, with the white space between them, join to the text again.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from functools import lru_cache

import msgspec

from roundhand.findings import Span
from roundhand.measures import number_word, opens_number, read_number
from roundhand.notation.quantities import Values
from roundhand.notation.sizing_section import count_at
from roundhand.terms import PIECES, WORDS, Vocabulary


class Token(msgspec.Struct, frozen=True, gc=False):
    """One word, or a run of words with one meaning.

    `kind`: `number`, `ordinal`, `mark`, `stitch` (value: stitch id), `defined` (value: the name in the pattern),
    `word` (value: concept), `colour` (value: label), `name` (a word without meaning here). `number` is the value of
    a number or ordinal, else None. `foreign` marks a stitch word of the other side of the ocean. `sizes` are the values
    of a named count, `{body}`, which is a number.
    """

    kind: str
    value: str
    start: int
    end: int
    text: str
    number: int | None = None
    foreign: bool = False
    sizes: tuple[int | None, ...] = ()

    @property
    def span(self) -> Span:
        """The place of the token."""
        return Span(self.start, self.end)


class Sense(msgspec.Struct, frozen=True, gc=False):
    """What a word means wherever it stands, unless one of the words `before` follows it and the two mean more."""

    kind: str
    value: str
    number: int | None
    foreign: bool
    before: frozenset[str]


class Lexicon(msgspec.Struct, frozen=True):
    """What words mean in one pattern: a language, the names it defines, and the labels of its yarns.

    `other` is the language of the other side of the ocean, whose proving words are understood and reported. `senses`
    keeps the words looked up so far; None stands for a word whose neighbours must be asked. `sections` are the headings
    of the page, by which a piece may be named. `counts` are the page's named counts with their values, nothing for one
    that has none yet.
    """

    words: Vocabulary
    other: Vocabulary | None
    defined: Mapping[str, tuple[tuple[str, ...], ...]]
    colours: Mapping[str, str]
    colour_words: Mapping[str, str]
    senses: dict[str, Sense | None] = msgspec.field(default_factory=dict)
    sections: tuple[str, ...] = ()
    counts: Mapping[str, Values] = msgspec.field(default_factory=dict)

    def means_as(self, other: Lexicon) -> bool:
        """Whether every word means the same in another lexicon."""
        return (
            self.words is other.words
            and self.other is other.other
            and self.defined == other.defined
            and self.colours == other.colours
            and self.colour_words == other.colour_words
            and self.sections == other.sections
            and self.counts == other.counts
        )

    def defining(self, defined: Mapping[str, tuple[tuple[str, ...], ...]]) -> Lexicon:
        """The same with these names defined: by first word the spellings, the longest first."""
        return Lexicon(
            self.words,
            self.other,
            defined,
            self.colours,
            self.colour_words,
            sections=self.sections,
            counts=self.counts,
        )


# White space between words.
_BLANK = Sense("", "", None, False, frozenset())
# Digits of the longest number that is read as one.
_LONGEST_NUMBER = 40


def cut(text: str, start: int, end: int) -> list[Token]:
    """The bare tokens of a stretch of text: numbers, ordinals, words and marks, without meanings.

    >>> [token.text for token in cut("sc3, 2nd ch (6)", 0, 15)]
    ['sc', '3', ',', '2nd', 'ch', '(', '6', ')']
    """
    tokens = []
    at = start
    for piece in PIECES.findall(text, start, end):
        stop = at + len(piece)
        bare = _bare(piece) if stop - at <= _LONGEST_NUMBER else _bare.__wrapped__(piece)
        if bare is not None:
            tokens.append(Token(bare[0], bare[1], at, stop, piece, bare[2]))
        at = stop
    return tokens


@lru_cache(maxsize=4096)
def _bare(piece: str) -> tuple[str, str, int | None] | None:
    """What kind of token a piece of the text is, how it is looked up, and the value of a number; None for a space."""
    found = WORDS.match(piece)
    if found is None:
        return None
    kind = found.lastgroup or "mark"
    number = None
    if kind == "ordinal":
        number = _whole("".join(letter for letter in piece if letter.isdecimal()))
    elif kind == "number":
        number = _whole(piece)
    word = piece if piece.isascii() else unicodedata.normalize("NFKC", piece)
    return kind, word.lower().replace("\u2019", "'"), number


def _whole(word: str) -> int | None:
    """The value of a whole number; None for a fraction, and for a number so long that nobody means it."""
    if word.isdecimal() and len(word) <= _LONGEST_NUMBER:
        return int(word)
    if len(word) > _LONGEST_NUMBER:
        return None
    exact = read_number(word)
    return exact[0].numerator if exact and exact[0].denominator == 1 else None


def understand(text: str, start: int, end: int, lexicon: Lexicon) -> list[Token]:
    """The tokens of a stretch of text with their meanings; the longest run of words that means something is one."""
    if lexicon.counts and text.find("{", start, end) >= 0:
        return _with_meanings(text, _with_counts(text, _with_loops(cut(text, start, end), lexicon), lexicon), lexicon)
    if _LOOPED.search(text, start, end):
        return _with_meanings(text, _with_loops(cut(text, start, end), lexicon), lexicon)
    senses = lexicon.senses
    tokens: list[Token] = []
    # The tokens without their meanings, and their words: made where neighbours must be asked, which few words need.
    bare: list[Token] = []
    words: list[str] = []
    pieces = PIECES.findall(text, start, end)
    at, position, taken = start, -1, 0
    for number, piece in enumerate(pieces):
        begin, at = at, at + len(piece)
        sense = senses[piece] if piece in senses else senses.setdefault(piece, _sense_of(text, piece, begin, lexicon))
        if sense is _BLANK:
            continue
        position += 1
        if taken:
            taken -= 1
        elif sense is not None and not (sense.before and _leads(sense, pieces, number)):
            tokens.append(Token(sense.kind, sense.value, begin, at, piece, sense.number, sense.foreign))
        else:
            if not bare:
                bare = cut(text, start, end)
                words = [one.value for one in bare]
            token, length = _meaning(text, bare, words, position, lexicon)
            tokens.append(token)
            taken = length - 1
    return tokens


def _leads(sense: Sense, pieces: list[str], number: int) -> bool:
    """Whether the word behind the piece of this number may make one of the two."""
    for piece in pieces[number + 1 : number + 3]:
        behind = _bare(piece) if len(piece) <= _LONGEST_NUMBER else _bare.__wrapped__(piece)
        if behind is not None:
            return behind[1] in sense.before
    return False


def _with_meanings(text: str, bare: list[Token], lexicon: Lexicon) -> list[Token]:
    """The tokens with their meanings, each looked at with its neighbours."""
    words = [one.value for one in bare]
    tokens: list[Token] = []
    position = 0
    while position < len(bare):
        token, length = _meaning(text, bare, words, position, lexicon)
        tokens.append(token)
        position += length
    return tokens


def _sense_of(text: str, piece: str, start: int, lexicon: Lexicon) -> Sense | None:
    """What a piece of the text means where its neighbours do not matter; `_BLANK` for white space."""
    found = _bare(piece) if len(piece) <= _LONGEST_NUMBER else _bare.__wrapped__(piece)
    if found is None:
        return _BLANK
    return _sense(text, Token(found[0], found[1], start, start + len(piece), piece, found[2]), lexicon)


def _sense(text: str, token: Token, lexicon: Lexicon) -> Sense | None:
    """What a word means where its neighbours do not matter; None for a word that may be a yarn or a defined name."""
    word = token.value
    if token.kind == "word" and _may_be_colour(token, lexicon):
        return None
    if word in lexicon.defined or word in lexicon.words.counted or opens_number(word):
        return None
    before = lexicon.words.goes_on(word)
    if lexicon.other is not None:
        before |= lexicon.other.goes_on(word)
    if lexicon.words.period is not None:
        before |= {"."}
    alone, _ = _meaning(text, [token], [word], 0, lexicon)
    return Sense(alone.kind, alone.value, alone.number, alone.foreign, before)


def _with_counts(text: str, bare: list[Token], lexicon: Lexicon) -> list[Token]:
    """The tokens with each `{body}` and `{body / 2}` as one number; other curly brackets are those of a repeat."""
    merged: list[Token] = []
    position = 0
    while position < len(bare):
        token = bare[position]
        close = next((at for at in range(position + 1, len(bare)) if bare[at].text in "{}"), None)
        first = position + 1
        while first < len(bare) and bare[first].text == "(":
            first += 1
        named = close is not None and first < close and token.text == "{" and bare[close].text == "}"
        if named and close is not None and bare[first].value in lexicon.counts:
            end = bare[close].end
            sizes = count_at(text, token.end, bare[close].start, lexicon.counts)
            some = next((value for value in sizes if value is not None), None)
            merged.append(Token("number", "{", token.start, end, text[token.start : end], some, sizes=sizes))
            position = close + 1
            continue
        merged.append(token)
        position += 1
    return merged


_LOOPED = re.compile(r"\S(?:blo|flo|tbl)", re.IGNORECASE)
_LOOP_ENDS = ("blo", "flo", "tbl")


def _with_loops(bare: list[Token], lexicon: Lexicon) -> list[Token]:
    """Words like `scblo` cut in two: the stitch, and the loop it goes into."""
    cut_up: list[Token] = []
    for token in bare:
        stem = token.value[:-3]
        if token.value.endswith(_LOOP_ENDS) and token.kind == "word" and stem and not lexicon.words.knows(token.value):
            found = lexicon.words.find([stem], 0)
            if found is not None and found.kind == "stitch":
                middle = token.end - 3
                cut_up.append(Token("word", stem, token.start, middle, token.text[:-3]))
                cut_up.append(Token("word", token.value[-3:], middle, token.end, token.text[-3:]))
                continue
        cut_up.append(token)
    return cut_up


def _meaning(text: str, bare: list[Token], words: list[str], position: int, lexicon: Lexicon) -> tuple[Token, int]:
    token = bare[position]
    if token.kind != "word" and token.kind != "ordinal" and not lexicon.words.opens(token.value):
        return token, 1
    numbered = _numbered_colour(bare, position, lexicon)
    if numbered is not None:
        return numbered, 2
    colour = _colour(bare, position, lexicon)
    if colour is not None and not _opens_stitch(words, position, lexicon):
        return Token("colour", colour, token.start, token.end, token.text), 1
    for spelling in lexicon.defined.get(words[position], ()):
        if tuple(words[position : position + len(spelling)]) == spelling:
            last = bare[position + len(spelling) - 1]
            return (
                Token("defined", " ".join(spelling), token.start, last.end, text[token.start : last.end]),
                len(spelling),
            )
    found = lexicon.words.find(words, position)
    counted = lexicon.words.counted.get(words[position])
    if counted is not None and (found is None or found.length == 1) and _is_counted(words, position):
        return Token("stitch", counted, token.start, token.end, token.text), 1
    if found is not None:
        length = found.length + (found.kind == "stitch" and _has_stop(bare, position + found.length, lexicon))
        last = bare[position + length - 1]
        number = token.number if token.kind == "ordinal" else None
        return (
            Token(found.kind, found.value, token.start, last.end, text[token.start : last.end], number),
            length,
        )
    if token.kind == "word":
        if token.value in _ORDINALS:
            return Token("ordinal", token.value, token.start, token.end, token.text, _ORDINALS[token.value]), 1
        number = number_word(token.value)
        if number is not None:
            return _spelled(text, bare, position, number)
        if lexicon.other is not None:
            foreign = lexicon.other.find(words, position)
            if foreign is not None and foreign.kind == "stitch":
                last = bare[position + foreign.length - 1]
                return (
                    Token("stitch", foreign.value, token.start, last.end, text[token.start : last.end], None, True),
                    foreign.length,
                )
        return Token("name", token.value, token.start, token.end, token.text), 1
    return token, 1


def _spelled(text: str, bare: list[Token], position: int, number: int) -> tuple[Token, int]:
    """A number in words, of one word or of two, `sixty`, `sixty-six`, `sixty six`."""
    token = bare[position]
    if opens_number(token.value):
        dash = position + 1 < len(bare) and bare[position + 1].text in "-\u2010\u2011"
        unit = bare[position + 1 + dash] if position + 1 + dash < len(bare) else None
        whole = number_word(f"{token.value}-{unit.value}") if unit is not None else None
        if whole is not None and unit is not None:
            words = text[token.start : unit.end]
            return Token("number", words.lower(), token.start, unit.end, words, whole), 2 + dash
    return Token("number", token.value, token.start, token.end, token.text, number), 1


def _has_stop(bare: list[Token], position: int, lexicon: Lexicon) -> bool:
    """Whether the stop at `position` belongs to a short word of an older book, `3 ch., 1 tr. in next`: it is followed
    by another mark or by a small letter."""
    if lexicon.words.period is None or position + 1 >= len(bare) or bare[position].text != ".":
        return False
    after = bare[position + 1]
    return after.text in (",", ";", ")", ":") or (after.kind == "word" and after.text.islower())


# Words that point at a stitch, and those behind which an ordinary word is none: "each long", but "12 plain rounds".
_POINTS = frozenset(("a", "each", "every", "next", "the", "same", "first", "last", "of", "in", "into", "on"))
_NO_STITCH = frozenset(("row", "rows", "round", "rounds", "rnd", "rnds", "loop", "loops", "strip", "edge", "side"))
_COUNTS = re.compile(r"\d+(?:st|nd|rd|th|d)?|[\u00bc-\u00be]")


def _is_counted(words: list[str], position: int) -> bool:
    """Whether a word is counted or pointed at as a stitch is: `3 long`, `in each long`."""
    before = words[position - 1] if position else ""
    after = words[position + 1] if position + 1 < len(words) else ""
    counted = _COUNTS.fullmatch(before) is not None or before in _ORDINALS or number_word(before) is not None
    return (counted or before in _POINTS) and after not in _NO_STITCH


# Ordinals in words; "first" has meanings of its own and stands in the files of terms.
_ORDINALS = {
    word: value
    for value, word in enumerate(
        ["second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"], start=2
    )
}

# Words after which a single capital letter, or MC and the like, is a yarn even if no yarn of that name is declared.
_BEFORE_COLOUR = frozenset(
    ("with", "in", "to", "using", "join", "color", "colour", "yarn", "cut", "drop", "carry", "off", "attach", "break",
     "rejoin", "pick", "up", "end", "change", "from", "and", "or", "add", "strand", "of", "hold", "into")
)  # fmt: skip
# Where a capital A is the article, in a sentence or in a row all in capitals: "MAKE A MAGIC RING".
_BEFORE_ARTICLE = frozenset(("", ".", ":", ")", "make", "making", "form", "forming", "into", "as"))
# Labels of yarns that nobody need declare.
_LABELS = ("C", "CC", "MC")


def _may_be_colour(token: Token, lexicon: Lexicon) -> bool:
    """Whether a word names a yarn beside some neighbours: a label or the beginning of one, a colour, a capital."""
    word = token.text
    return (
        (len(word) == 1 and word.isupper())
        or word in _LABELS
        or word in lexicon.colours
        or token.value in lexicon.colour_words
        or token.value in lexicon.words.colours
        or any(label.startswith(word) for label in lexicon.colours)
    )


def _opens_stitch(words: list[str], position: int, lexicon: Lexicon) -> bool:
    """Whether a letter that may be a yarn is the first of a stitch's words: "in V-st"."""
    word = words[position]
    if any(
        len(one) > 1 and tuple(words[position : position + len(one)]) == one for one in lexicon.defined.get(word, ())
    ):
        return True
    found = lexicon.words.find(words, position)
    return found is not None and found.kind == "stitch" and found.length > 1


def _numbered_colour(bare: list[Token], position: int, lexicon: Lexicon) -> Token | None:
    """A yarn whose label is a word and a number written together, such as CC1."""
    if position + 1 >= len(bare):
        return None
    word, number = bare[position : position + 2]
    if word.kind != "word" or number.kind != "number" or number.start != word.end:
        return None
    label = word.text + number.text
    before = bare[position - 1].value if position else ""
    undeclared = before in _BEFORE_COLOUR and word.text in _LABELS
    if label in lexicon.colours or undeclared:
        return Token("colour", label, word.start, number.end, label)
    return None


def _colour(bare: list[Token], position: int, lexicon: Lexicon) -> str | None:
    """The label of the yarn that the word at `position` names, or None.

    A label is written as declared: a capital letter is a yarn where one is declared and the letter is not the article
    at the head of a sentence. After "with", "to" and the like an undeclared capital letter is a yarn as well, so that
    it can be reported.
    """
    token = bare[position]
    if token.kind != "word":
        return None
    before = bare[position - 1].value if position else ""
    after = bare[position + 1] if position + 1 < len(bare) else None
    if token.text in lexicon.colours:
        article = token.text == "A" and before in _BEFORE_ARTICLE and after is not None and after.kind != "mark"
        return None if article else token.text
    if token.value in lexicon.colour_words and before not in ("", "."):
        return lexicon.colour_words[token.value]
    if before not in _BEFORE_COLOUR:
        return None
    label = token.text
    if (len(label) == 1 and label.isupper()) or label in ("MC", "CC"):
        if before in ("color", "colour", "yarn"):
            return label
        if label == "A" and after is not None and after.kind == "word":
            return None
        return label
    if token.value in lexicon.words.colours and before in ("with", "using", "to"):
        return token.text
    return None
