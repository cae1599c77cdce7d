"""The tree printed again, in house style: every row as roundhand would write it, with her own words where they say
more than the tree holds.

A row is printed from its nodes: label, chains, stitches and how many, groups and how often, counts. Words that the
tree keeps only the sense of (a note, a place with a name, what a round is joined to) are set down as they stand, with
even spaces and short stitch words. A row is left alone, whole, where anything between its nodes is not understood, or
where the printed row would not read back to the same tree; so nothing of hers can be lost. The house style itself is
ours.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec

from roundhand.findings import Span
from roundhand.notation.tokens import Lexicon, Token, understand
from roundhand.notation.tree import Amount, Chain, Node, RowLine, Stated, Step, Times, Work
from roundhand.stitches import dictionary

# Words that may stand between two instructions and say nothing of their own.
_BETWEEN = frozenset((",", ";", ".", "and", "then"))
_DASHES = frozenset("-\u2013\u2014\u2212")
# Marks that may stand close to the words on both sides.
_CLOSE = _DASHES | frozenset("/'\u2019")
# Words that lead to an instruction and are kept in front of it.
_LEADS = frozenset(("work", "make", "a", "an", "the", "begin", "with", "start"))
_TIGHT_BEFORE = frozenset(",;:.)]}!?%")
_TIGHT_AFTER = frozenset("([{")
# Marks and words that lead to a count and are not printed again.
_COUNT_LEADS = frozenset("=-\u2013\u2014\u2212()[],;.\u2192\u21d2")

# What is written in capitals whatever stands around it; and so few letters are no row in capitals: "R1: 6SC".
_CAPITALS = frozenset(("RS", "WS", "MR", "MC", "CC", "BL", "FL", "BLO", "FLO", "PM"))
_SHORT_CRY = 8


class UnprintableError(Exception):
    """A row holds something that cannot be printed without changing it; it is left as it stands."""


class _Atom(msgspec.Struct, frozen=True):
    """A piece of a row with its place; `count` for a stated count."""

    span: Span
    words: str
    count: bool = False


class Printer:
    """Prints the rows of one pattern. `count` is the number of its sizes."""

    def __init__(self, text: str, lexicon: Lexicon, count: int) -> None:
        self.text = text
        self.lexicon = lexicon
        self.count = count
        self.active: tuple[int, ...] = tuple(range(count))
        self.shouted = False

    def row(self, line: RowLine | Step) -> str:
        """A row or step in house style, without the size phrase in front of it.

        Raises `UnprintableError` where something between its nodes is not understood.
        """
        self.active = line.sizes
        own = line.span.of(self.text)
        self.shouted = own.upper() == own and sum(letter.isalpha() for letter in own) > _SHORT_CRY
        end = line.span.end
        stated = line.stated if isinstance(line, RowLine) else ()
        atoms = self._atoms([*line.nodes, *stated])
        begin = line.span.start
        head = ""
        if isinstance(line, RowLine):
            first = atoms[0].span.start if atoms else end
            rest = self._tokens(Span(line.label.span.end, first))
            while rest and rest[-1].text.lower() in _LEADS:
                first = rest.pop().start
            head = self._label(line, begin, rest)
            begin = first
        return f"{head} {self._sentences(atoms, begin, end)}".strip()

    # The label.

    def _label(self, line: RowLine, begin: int, behind: Sequence[Token]) -> str:
        label = line.label
        if label.numbers or label.every or label.rows is not None:
            raise UnprintableError
        rest = [token for token in behind if token.text not in (":", ".", "*")]
        side = [token for token in rest if token.kind == "word" and token.value in ("right_side", "wrong_side")]
        others = [token for token in rest if token not in side and token.text not in "()[]-\u2013\u2014_"]
        lead = self._tokens(Span(begin, label.span.start))
        if others or lead or len(side) > 1:
            raise UnprintableError
        aside = f" ({label.side})" if label.side else ""
        if label.next_rows is not None:
            words = self.said(label.span)
            return f"{words[:1].upper()}{words[1:]}{aside}:"
        if label.first is None or label.last is None:
            raise UnprintableError
        word = "Rnd" if label.kind == "round" else "Row"
        numbers = self._range(label.first, label.last) if label.ranged else self.amount(label.first)
        if label.ranged:
            word += "s"
        return f"{word} {numbers}{aside}:"

    def _range(self, first: Amount, last: Amount) -> str:
        firsts, lasts = (self._values(amount) for amount in (first, last))
        size = max(len(firsts), len(lasts))
        pairs = list(zip(firsts * (size // len(firsts)), lasts * (size // len(lasts)), strict=True))
        if any((one is None) != (other is None) for one, other in pairs) or pairs[0][0] is None:
            raise UnprintableError
        said = ["-" if one is None else f"{one}-{other}" for one, other in pairs]
        if len({one for one, _ in pairs}) == 1 and len(said) > 1:
            # Where all sizes begin with the same row the ends alone are listed: 3-60 (66, 72).
            said[1:] = [str(other) for _, other in pairs[1:]]
        return said[0] if len(said) == 1 else f"{said[0]} ({', '.join(said[1:])})"

    # Numbers.

    def _values(self, amount: Amount) -> list[int | None]:
        values = list(amount.values)
        if len(values) > 1 and len(self.active) < self.count:
            values = [values[at] for at in self.active]
        return values

    def amount(self, amount: Amount) -> str:
        """A number, or its list of sizes: `56 (64, -, 72)`."""
        said = ["-" if value is None else str(value) for value in self._values(amount)]
        return said[0] if len(said) == 1 else f"{said[0]} ({', '.join(said[1:])})"

    # Her own words.

    def _tokens(self, span: Span) -> list[Token]:
        return understand(self.text, span.start, span.end, self.lexicon)

    def said(self, span: Span) -> str:
        """The words of a span as they stand, with even spaces and short stitch words."""
        return self.spaced(self._tokens(span))

    def spaced(self, tokens: Sequence[Token]) -> str:
        """Tokens set with even spaces."""
        out = ""
        before: Token | None = None
        for token in tokens:
            word = self._word(token)
            apart = before is not None and before.end < token.start
            if not out or before is None:
                out = word
            elif token.text in _TIGHT_BEFORE or before.text in _TIGHT_AFTER:
                out += word
            else:
                out += f" {word}" if apart or not self._may_touch(before, token) else word
            before = token
        return out

    @staticmethod
    def _may_touch(before: Token, token: Token) -> bool:
        """Whether two tokens that stand close may stay so: `ch-3`, `54/60`, `st's`, `12:14`."""
        return any(text[:1] in _CLOSE for text in (before.text, token.text)) or before.text == ":"

    def _word(self, token: Token) -> str:
        if token.kind == "stitch" and not token.foreign and dictionary()[token.value].family == token.value:
            # A plain stitch named in full becomes short. What she calls the others, "spike sc" or "bobble", stays.
            short, full = self.lexicon.words.short(token.value), self.lexicon.words.full_names.get(token.value)
            if token.text.lower() in (short, f"{short}s", full, f"{full}s"):
                return short
        said = " ".join(token.text.split())
        # A row all in capitals is set like the others; what the trade writes in capitals stays.
        quiet = self.shouted and token.kind not in ("colour", "name") and said not in _CAPITALS
        return said.lower() if quiet else said

    # Nodes.

    def _atoms(self, nodes: Iterable[Node]) -> list[_Atom]:
        atoms: list[_Atom] = []
        for node in sorted(nodes, key=lambda node: (node.span.start, -node.span.end)):
            atom = self._atom(node)
            if atoms and atom.span.start < atoms[-1].span.end:
                # Two nodes of the same words: the words themselves say both.
                span = atoms[-1].span.to(atom.span)
                atom = _Atom(span, self.said(span))
                atoms.pop()
            atoms.append(atom)
            if isinstance(node, Chain) and node.counts_span is not None and node.counts_span.start >= node.span.end:
                atoms.append(_Atom(node.counts_span, self.said(node.counts_span)))
        return atoms

    def _atom(self, node: Node) -> _Atom:
        match node:
            case Chain():
                words = self._chain(node)
            case Work():
                words = self._work(node)
            case Times() if node.lost:
                # Where the repeat begins is a reading; nothing is put there in her name.
                raise UnprintableError
            case Times():
                words = self._times(node)
            case Stated():
                words = self._stated(node)
            case _:
                words = self.said(node.span)
        return _Atom(node.span, words, isinstance(node, Stated))

    def _chain(self, chain: Chain) -> str:
        if not chain.amount.values or chain.amount.values == (0,) or chain.span == chain.counts_span:
            return self.said(chain.span)
        if any(token.kind in ("name", "colour") for token in self._tokens(chain.span)):
            # "Ch 6 for underarm" says what it is for.
            return self.said(chain.span)
        return f"ch {self.amount(chain.amount)}"

    def _work(self, work: Work) -> str:
        place = work.into
        item = work.group[0]
        plain = place.kind == "next" and not (place.loop or place.post or place.below) and place.what == "stitch"
        tokens = self._tokens(work.span)
        # A place of its own says more than the tree; only a bare number of stitches is printed from the tree.
        placed = any(
            token.kind in ("name", "colour")
            or (token.kind == "word" and token.value not in ("times", "increase", "decrease"))
            for token in tokens
        )
        named = [token for token in tokens if token.kind in ("stitch", "defined", "word") and token.value != "times"]
        if (
            len(named) != 1
            or len(work.group) != 1
            or placed
            or not plain
            or place.bare
            or item.amount.values != (1,)
            or not place.count
        ):
            return self.spaced(tokens)
        if item.together or not (item.stitch or item.alias):
            return self.spaced(tokens)
        name = self._word(named[0])
        count = self.amount(place.count)
        return name if count == "1" else f"{name} in next {count} sts"

    def _times(self, times: Times) -> str:
        tokens = self._tokens(times.span)
        if not times.body or times.words == times.span:
            return self.spaced(tokens)
        inside = self._atoms(times.body)
        first, last = inside[0].span.start, inside[-1].span.end
        opening = [token for token in tokens if token.end <= first]
        closing = [token for token in tokens if token.start >= last]
        body = self._sentences(inside, first, last, sentences=False)
        how = self._how(times)
        if not how:
            raise UnprintableError
        star = "".join(token.text for token in opening) == "*"
        if star and times.star and any(token.kind == "word" and token.value == "repeat" for token in closing):
            return f"*{body}; rep from * {how}"
        if star and times.star and closing and closing[0].text == "*":
            return f"*{body}* {how.removesuffix(' in all')}"
        if len(opening) == 1 and opening[0].text in "([" and not times.star:
            return f"({body}) {how}"
        if opening and opening[-1].text in "([" and times.mode == "fixed" and len(opening) in (3, 4):
            return f"({body}) {how}"
        raise UnprintableError

    def _how(self, times: Times) -> str:
        if times.amount is not None and times.mode in ("fixed", "more", "unsaid"):
            number = self.amount(times.amount)
            if times.mode == "more":
                return f"{number} more time{'' if number == '1' else 's'}"
            if number == "2":
                return "twice" + (" in all" if times.star and times.mode == "fixed" else "")
            counted = f"{number} time{'' if number == '1' else 's'}"
            return counted + (" in all" if times.star and times.mode == "fixed" else "")
        tail = self._tokens(times.words)
        led = [at for at, token in enumerate(tail) if token.kind == "word" and token.value == "repeat"]
        tail = tail[led[0] + 1 :] if led else tail
        while tail and (tail[0].text in "*,'s" or tail[0].value in ("from", "the")):
            tail = tail[1:]
        return self.spaced(tail)

    def _stated(self, stated: Stated) -> str:
        tokens = self._tokens(stated.span)
        first = stated.counts[0][0].span.start
        if any(token.text not in _COUNT_LEADS for token in tokens if token.end <= first):
            # Words of her own lead to the number, "You should have 24 sts."
            return self.spaced(tokens)
        parts = []
        at = [amount.span for amount, _ in stated.counts]
        for place, (amount, unit) in enumerate(stated.counts):
            end = at[place + 1].start if place + 1 < len(at) else stated.span.end
            words = self._trimmed([token for token in tokens if amount.span.end <= token.start < end])
            if unit and not words:
                raise UnprintableError
            parts.append(f"{self.amount(amount)} {words}".strip())
        return f"({', '.join(parts)})"

    def _trimmed(self, tokens: Sequence[Token]) -> str:
        """The words behind a number, without the mark or the "and" that leads to the next."""
        words = list(tokens)
        while words and (words[-1].text in _COUNT_LEADS or words[-1].value == "and"):
            words.pop()
        return self.spaced(words)

    # Sentences.

    def _sentences(self, atoms: Sequence[_Atom], begin: int, end: int, sentences: bool = True) -> str:
        """The atoms with what stands between them; a capital at each sentence."""
        out = ""
        at = begin
        for position, atom in enumerate(atoms):
            stop, lead = self._gap(Span(at, atom.span.start))
            words = lead + atom.words.rstrip(",; ")
            closing = atom.count and position == len(atoms) - 1 and words.startswith("(")
            if out and not out.endswith("."):
                if sentences and (closing or stop == "."):
                    out += "."
                elif stop == "and":
                    out += " and"
                elif stop:
                    out += stop
            if sentences and (not out or out.endswith(".")) and words[0] not in "*([":
                words = words[0].upper() + words[1:]
            out += f" {words}" if out else words
            at = atom.span.end
        stop, lead = self._gap(Span(at, end))
        if lead:
            raise UnprintableError
        ended = out.endswith(".") or (atoms and atoms[-1].count and out.endswith(")"))
        return f"{out}." if sentences and out and not ended else out

    def _gap(self, span: Span) -> tuple[str, str]:
        """What stands between two atoms: `.`, `;`, `,`, `and` or nothing, and words that lead to the second.

        Raises `UnprintableError` for anything else."""
        tokens = self._tokens(span)
        lead = ""
        while tokens and tokens[-1].text.lower() in _LEADS:
            lead = f"{tokens.pop().text.lower()} {lead}"
        texts = [token.text.lower() for token in tokens]
        if any(text not in _BETWEEN for text in texts):
            raise UnprintableError
        return next((text for text in (".", ";", ",", "and") if text in texts), "and" if texts else ""), lead
