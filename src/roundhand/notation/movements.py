"""The movements of the hook in the words of a definition: `(yo, insert hook in st, draw up a loop) 3 times, yo, draw
through all 7 loops`.

The same reader reads what a designer writes and what `explain` says. Articles are left out and every "and" parts two
movements as a comma does, so that the phrases of the room of terms can be few.
"""

from __future__ import annotations

import re

from roundhand.notation.hook_places import place_said
from roundhand.notation.hook_words import TIMES, bare_words, grammar_of
from roundhand.notation.settling import ALL, NOWHERE, SKIP, THROUGH_LAST, UNTIL, YARN, Move, Movements, settle
from roundhand.stitches import dictionary
from roundhand.terms import Vocabulary

_UNTIL = (
    r" (?:until|till) (?:only )?(?P<left>\d+) (?:\w+ )??(?:remain\w*|is|are|left)(?: left| remaining)?(?: on hook)?"
)
_WORD = re.compile(r"\S+ ?")
_EACH = re.compile(r"\b(?:each of )?next (\d+)\b|\beach of (?:following )?(\d+)\b|\bover (?:next )?(\d+)\b")
_ASIDE = re.compile(r"\b(?:made|counts?|formed|completed|now|remain\w*|left)\b|^ ?\d* ?(?:loops?|lps?)\b")
# "Make bobble. Work 5 unfinished dc …" names the stitch before it is told.
_CALLED = re.compile(r"^(?:make|work) (?:[a-z]+ ){1,3}[.:] (?=.)")
# Brackets inside brackets are read to this depth.
_DEEPEST = 8
_LONGEST = 4000


def read_movements(text: str, words: Vocabulary, name: str = "") -> Movements:
    """What the words of a definition say that the hook does; `name` is what the stitch is called.

    Where "repeat twice" may mean twice in all or twice more, the one that closes is taken.

    >>> from roundhand.terms import vocabulary
    >>> from roundhand.stitches import write_recipe
    >>> words = "(Yo, insert hook in st, draw up a loop) 3 times, yo, pull through 7 loops."
    >>> said = read_movements(words, vocabulary("US"))
    >>> write_recipe(said.recipe), said.uses, said.lacking
    ('yo, insert, draw up, (yo, insert same, draw up) x 2, pull through 7', 1, None)
    """
    plain = _CALLED.sub("", bare_words(text[:_LONGEST], words.language))
    one = any(re.search(rf"\b{word}", name.lower()) for word in words.hook["one_place"])
    found = []
    for more in (True, False):
        scan = _Scan(plain, words.language, more, name.lower())
        found.append(settle(scan.series(len(plain), 0), scan.hook, one))
        if found[-1].lacking is None or not scan.unsure:
            return found[-1]
    return found[0]


_TIMES_AT = re.compile(TIMES)
_UNTIL_AT = re.compile(_UNTIL)
_OPENING = re.compile(r"[(\[{] ")


def _into(moves: list[Move], place: str) -> list[Move]:
    """The moves with their first insertion in a place, where the words say none."""
    for at, move in enumerate(moves):
        bare, _, how = move.where.partition("|")
        if (
            move.act in ("insert", "draw up")
            and bare in ("", "next", "same")
            and (move.act == "insert" or "|" in move.where)
        ):
            where = f"{place}|{how}" if move.act == "draw up" else place
            if move.act == "insert" and bare == "same" and place == "next":
                return moves
            return [*moves[:at], Move(move.act, move.loops, where), *moves[at + 1 :]]
    return moves


def _number(said: re.Match[str]) -> int:
    """The number of times."""
    return int((said["n"] or said["x"] or said["b"] or "")[:4] or {"once": 1, "twice": 2, "thrice": 3}[said["w"]])


def _says_more(said: re.Match[str]) -> bool:
    """Whether they are so many times more."""
    return any(said[f"more{one}"] for one in (1, 2, 3, 4))


class _Scan:
    """Goes through the bare words once. `more` is how "repeat twice" is taken, `unsure` whether it was met."""

    def __init__(self, text: str, language: str, more: bool, name: str) -> None:
        self.text = text
        self.at = 0
        self.grammar = grammar_of(language)
        self.more = more
        self.name = name
        self.unsure = self.hook = False
        self.dropped = self.taken_up = False

    def series(self, end: int, depth: int) -> list[Move]:
        """The moves up to an end."""
        out: list[Move] = []
        star = 0
        while self.at < end:
            start = self.at
            if self.text[start] in "([{" and depth < _DEEPEST:
                self._bracket(out, end, depth)
            elif self.text[start] == "*":
                star = len(out)
                self.at += 2
            elif not self._movement(out, end) and not self._again(out, star):
                found = _WORD.match(self.text, start)
                self.at = found.end() if found is not None else end
            if self.at <= start:
                self.at = start + 1
        return out

    def _bracket(self, out: list[Move], end: int, depth: int) -> None:
        close = self._closing(end)
        inside = self.text[self.at + 2 : close]
        begun, hook = self.at, self.hook
        self.at += 2
        inner = self.series(close, depth + 1)
        self.at = close + 2
        if not any(move.act != YARN for move in inner) and _TIMES_AT.match(" " + inside):
            return
        times = self._times(end)
        place = self._behind(end) if times is None else None
        if place is not None:
            times = self._times(end)
        elif times is not None:
            place = self._behind(end)
        if times is None and (_ASIDE.search(inside) or (begun == 0 and not inner)):
            self.hook = hook
            return
        until = _UNTIL_AT.match(self.text, self.at - 1) if times is None else None
        pulls = [move for move in inner if move.act != YARN]
        if until is not None and len(pulls) == 1 and pulls[0].act == "pull through":
            self.at = until.end() + 1
            out.append(Move(YARN))
            out.append(Move(UNTIL, pulls[0].loops, until["left"]))
            return
        if place is not None and inner:
            inner = _into(inner, self.place(place))
            out += inner
            times = (times or 1) - 1
            inner = _into(inner, "same")
        out += inner * min(times if times is not None else 1, 99)

    def _closing(self, end: int) -> int:
        depth = 0
        for at in range(self.at, end):
            if self.text[at] in "([{":
                depth += 1
            elif self.text[at] in ")]}":
                depth -= 1
                if depth == 0:
                    return at
        return max(end - 1, self.at + 1)

    def _times(self, end: int) -> int | None:
        """How often, behind a bracket or a movement; None where nothing is said."""
        found = _TIMES_AT.match(self.text, self.at - 1, end)
        if found is None:
            return None
        self.at = found.end() + 1
        return min(_number(found) + _says_more(found), 99)

    def _behind(self, end: int) -> str | None:
        """`in same st` behind a bracket."""
        found = re.compile(
            r"(?:all )?(?:in|into) [^,;.()\[\]*]*?(?= \d+ (?:more )?times| twice| [,;.()\[\]*]| $)"
        ).match(self.text, self.at, end)
        if found is None:
            return None
        self.at = found.end() + 1
        return found[0]

    def _again(self, out: list[Move], star: int) -> bool:
        found = self.grammar.repeat.match(self.text, self.at)
        if found is None:
            return False
        self.at = found.end() + 1
        said = _TIMES_AT.match(self.text, self.at - 1)
        times = self._times(len(self.text))
        if times is None or said is None:
            return False
        if not _says_more(said):
            self.unsure = True
            times += 1 if self.more else 0
        out += out[star:] * (times - 1)
        return True

    def _movement(self, out: list[Move], end: int) -> bool:
        """The movement that begins here, if one does; moves over it."""
        return (
            self._taken_up(out, end)
            or self._dropped(out, end)
            or self._held(end)
            or self._strands(out, end)
            or self._finished(out, end)
            or self._through(out, end)
            or self._drawn(out, end)
            or self._inserted(out, end)
            or self._yarn(out, end)
            or self._skipped(out, end)
            or self._stitch(out, end)
        )

    def _match(self, pattern: re.Pattern[str], end: int) -> re.Match[str] | None:
        found = pattern.match(self.text, self.at, end)
        if found is not None and found.end() > self.at:
            # Behind a phrase the next word begins.
            self.at = found.end() + (1 if self.text[found.end() : found.end() + 1] == " " else 0)
            return found
        return None

    def _yarn(self, out: list[Move], end: int) -> bool:
        if self._match(self.grammar.yarn, end) is None:
            return False
        out += [Move(YARN)] * (self._times(end) or 1)
        return True

    def _taken_up(self, out: list[Move], end: int) -> bool:
        if not self.dropped and not self.taken_up:
            return False
        if self._match(self.grammar.take_up, end) is None:
            return False
        if self.dropped:
            out.append(Move("pick up dropped loop"))
        self.dropped, self.taken_up = False, True
        return True

    def _dropped(self, out: list[Move], end: int) -> bool:
        if self._match(self.grammar.drop, end) is None:
            return False
        out.append(Move("drop loop"))
        self.hook = self.dropped = True
        return True

    def _held(self, end: int) -> bool:
        """`keeping last loop of each on hook`, in front of the stitches that are left unfinished."""
        return self._match(self.grammar.held, end) is not None

    def _strands(self, out: list[Move], end: int) -> bool:
        """`grab both strands and pull through`: two loops at once, as in a loop stitch."""
        if self._match(self.grammar.strands, end) is None:
            return False
        self.hook = True
        out += [Move("draw up"), Move("insert", 1, "same"), Move("draw up")]
        return True

    def _finished(self, out: list[Move], end: int) -> bool:
        start = self.at
        if self._match(self.grammar.finish, end) is None:
            return False
        stitch = self._named(end)
        if stitch is None:
            self.at = start
            return False
        self.hook = True
        recipe = dictionary()[stitch[1]].recipe
        last = next((move.act for move in reversed(out) if move.act != YARN), "")
        begun = {"draw up": "draw up", "insert": "insert"}.get(last)
        at = max((at for at, one in enumerate(recipe) if one.act == begun), default=-1)
        out += [Move(one.act, one.loops, one.where) for one in recipe[at + 1 :]]
        return True

    def _through(self, out: list[Move], end: int) -> bool:
        """Through loops on the hook, or through the work and the loop on it at once."""
        grammar = self.grammar
        if self._match(grammar.slip, end) is not None:
            out += [Move("draw up"), Move("slip through", 1)]
        elif (found := self._match(grammar.straight, end)) is not None:
            out.append(Move("slip through", int(found["number"]) if found["number"].isdigit() else 1))
        elif (found := self._match(grammar.pull, end)) is not None:
            number = int(found["number"][:4]) if found["number"] else 2 if found["both"] else ALL
            self._pulled(out, number, end)
        elif self._match(grammar.last, end) is not None:
            out.append(Move(THROUGH_LAST))
        else:
            return False
        self.hook = True
        return True

    def _pulled(self, out: list[Move], number: int, end: int) -> None:
        until = _UNTIL_AT.match(self.text, self.at - 1, end)
        if until is not None:
            self.at = until.end() + 1
            out.append(Move(UNTIL, number, until["left"]))
            return
        where = ""
        for said, how in self.grammar.hows.items():
            if self.text.startswith(said + " ", self.at):
                where = how
                self.at += len(said) + 1
                break
        number = max(0, min(number, 999))
        out += [Move("pull through", number, where)] * (self._times(end) or 1)

    def _drawn(self, out: list[Move], end: int) -> bool:
        found = self._match(self.grammar.draw, end)
        if found is None:
            return False
        if self.taken_up:
            return True
        self.hook = True
        tail = (found["tail"] or found["rest"] or "").strip()
        times = _TIMES_AT.search(" " + tail + " ")
        if times is not None:
            tail = (" " + tail)[: times.start()].strip()
        how = self._how(found["adjectives"] or "", tail)
        last = next((move.act for move in reversed(out) if move.act != YARN), "")
        each = _EACH.search(tail)
        number = int(each[1] or each[2] or each[3]) if each is not None and last != "insert" else 1
        place = "next" if number > 1 else self.place(tail) if last != "insert" else ""
        if found["rest"] is not None and not tail and not place:
            place = NOWHERE
        again = _number(times) if times is not None else 1
        out += [Move("draw up", 1, f"{place}|{how}")] * min(number * again, 99)
        return True

    def _how(self, adjectives: str, tail: str) -> str:
        """How the loop is drawn up, in the words of recipes."""
        for said, how in self.grammar.hows.items():
            if tail.startswith(said) or adjectives.strip() == said:
                return how
        words = set(f"{adjectives} {tail}".split())
        if words & self.grammar.tall or words & {"even", "level"}:
            return "level with this row" if words & self.grammar.level else "tall"
        return ""

    def _inserted(self, out: list[Move], end: int) -> bool:
        found = self._match(self.grammar.insert, end)
        if found is None:
            return False
        self.taken_up = False
        self.hook = True
        said = found["place"].strip()
        times = _EACH.search(said)
        place = self.place(said)
        out.append(Move("insert", 1, place if times is None else "next"))
        return True

    def place(self, said: str) -> str:
        """A place in the words of recipes."""
        return place_said(said, self.grammar, self.name, self.dropped or self.taken_up)

    def _skipped(self, out: list[Move], end: int) -> bool:
        found = self._match(self.grammar.skip, end)
        if found is None:
            return False
        out.append(Move(SKIP, int((found["number"] or "1")[:3])))
        return True

    def _named(self, end: int) -> tuple[int, str] | None:
        """A stitch named here, with the number in front of it; moves over it."""
        words = self.text[self.at : end].split(" ", 8)[:8]
        number = 1
        skip = 0
        if words and words[0].isascii() and words[0].isdigit():
            number, skip = min(int(words[0][:3]), 99), 1
            if len(words) > 1 and words[1] in self.grammar.words.hook["unfinished"]:
                skip = 2
        if len(words) <= skip or not words[skip]:
            return None
        found = self.grammar.words.find(words, skip)
        if found is None or found.kind != "stitch":
            return None
        self.at += sum(len(word) + 1 for word in words[: skip + found.length])
        if found.value == "chain" and skip == 0:
            more = re.compile(r"(\d+) ").match(self.text, self.at, end)
            if more is not None:
                self.at = more.end()
                number = int(more[1][:3])
        return number, found.value

    def _stitch(self, out: list[Move], end: int) -> bool:
        """A whole stitch, or one held back before its last loops: its own movements."""
        start = self.at
        found = self._named(end)
        if found is None:
            return False
        number, stitch = found
        tail = re.compile(r"[^,;.:()\[\]*]*").match(self.text, self.at, end)
        said = tail[0] if tail is not None else ""
        self.at += len(said)
        sentence = self.text[self.text.rfind(".", 0, start) + 1 : (self.text + ".").find(".", start)]
        recipe = dictionary()[stitch].recipe
        if stitch != "chain" and self.grammar.unfinished.search(sentence):
            recipe = recipe[:-1]
            self.hook = True
        each = _EACH.search(said)
        if each is not None:
            number = int(each[1] or each[2] or each[3])
        place = "next" if each is not None else self.place(said)
        joined = stitch.endswith("_together") and place == "same"
        for again in range(min(number, 99)):
            if again and place == "next" and each is None:
                place = "same"
            for one in recipe:
                where = one.where
                if one.act == "insert" and not where:
                    where = "next" if stitch.endswith("_together") and not joined else place
                out.append(Move(one.act, one.loops, where))
        return True
