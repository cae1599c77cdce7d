"""The movements of the hook in the words of a definition: `(yo, insert hook in st, draw up a loop) 3 times, yo, draw
through all 7 loops`.

The same reader reads what a designer writes and what `explain` says. Articles are left out and every "and" parts two
movements as a comma does, so that the phrases of the room of terms can be few.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import cache

from roundhand.measures import number_word
from roundhand.notation.settling import ALL, NEXT_ONE, SKIP, THROUGH_LAST, UNTIL, YARN, Move, Movements, settle
from roundhand.notation.tokens import cut
from roundhand.stitches import Operation, dictionary
from roundhand.terms import Vocabulary, vocabulary

_TIMES = (
    r"(?: [,] (?=\d+ (?:more )?times))?(?: in all)?"
    r" (?:(?P<more1>another )?(?P<n>\d+) (?P<more2>more )?times?(?P<more3> more)?|x (?P<x>\d+)"
    r"|\( (?P<b>\d+) times? \)|(?P<w>once|twice|thrice)(?P<more4> more)?)(?! and)"
)
_UNTIL = (
    r" (?:until|till) (?:only )?(?P<left>\d+) (?:\w+ )??(?:remain\w*|is|are|left)(?: left| remaining)?(?: on hook)?"
)
_STOP = r"(?:(?!%s)[^,;.:()\[\]{}*])*"
_WORD = re.compile(r"\S+ ?")
_POSTED = re.compile(r"\bpost\b")
_ROWS_BELOW = re.compile(
    r"\b(?:\d+|given number of) (?:rows?|rnds?|rounds?)(?: rows?)?(?: below| down| beneath)|\bbelow\b"
)
_EACH = re.compile(r"\b(?:each of )?next (\d+)\b|\beach of (?:following )?(\d+)\b|\bover (?:next )?(\d+)\b")
_ASIDE = re.compile(r"\b(?:made|counts?|formed|completed|now|remain\w*|left)\b|^ ?\d* ?(?:loops?|lps?)\b")
_MARKS = frozenset("()[]{},;.:*")
_DASHES = frozenset("-\u2013\u2014\u2212")
# Brackets inside brackets are read to this depth.
_DEEPEST = 8
_LONGEST = 4000


def read_movements(text: str, words: Vocabulary, name: str = "") -> Movements:
    """What the words of a definition say that the hook does; `name` is what the stitch is called.

    Where "repeat twice" may mean twice in all or twice more, the one that closes is taken.

    >>> from roundhand.terms import vocabulary
    >>> from roundhand.stitches import write_recipe
    >>> said = read_movements("(Yo, insert hook in st, draw up a loop) 3 times, yo, pull through 7 loops.", vocabulary("US"))
    >>> write_recipe(said.recipe), said.uses, said.lacking
    ('yo, insert, draw up, (yo, insert same, draw up) x 2, pull through 7', 1, None)
    """
    plain = bare_words(text[:_LONGEST], words.language)
    one = any(re.search(rf"\b{word}", name.lower()) for word in words.hook["one_place"])
    found = []
    for more in (True, False):
        scan = _Scan(plain, words.language, more, name.lower())
        found.append(settle(scan.series(len(plain), 0), scan.hook, one))
        if found[-1].lacking is None or not scan.unsure:
            return found[-1]
    return found[0]


def bare_words(text: str, language: str) -> str:
    """A text in small letters with single spaces, without articles; numbers in digits, "and" as a comma."""
    hook = vocabulary(language).hook
    articles, parts = frozenset(hook["articles"]), frozenset(hook["parts"])
    said: list[str] = []
    for token in cut(text, 0, len(text)):
        word = token.value
        if (
            word in articles
            or word in _DASHES
            or (token.kind == "mark" and word not in _MARKS and word not in "&\u00d7")
        ):
            continue
        if word in parts:
            word = ","
        elif word == "\u00d7":
            word = "x"
        elif token.kind == "word" and word not in ("once", "twice", "thrice"):
            number = number_word(word)
            word = word if number is None else str(number)
        said.append(word)
    return " ".join(said) + " "


class _Grammar:
    """The patterns of one language, put together from its phrases once."""

    def __init__(self, words: Vocabulary) -> None:
        hook = words.hook
        self.words = words
        loop, draw, through = _any(hook["loop"]), _any(hook["draw"]), _any(hook["through"])
        off, strand, unit = _any(hook["work_off"]), _any(hook["strand"]), _any(hook["unit"])
        remaining, yarn, insert = _any(hook["remaining"]), _any(hook["yarn_over"]), _any(hook["insert"])
        verb = rf"(?:{draw}|{off})"
        carried = rf"(?:(?:{strand}|{loop}|hook|up|back|straight|right|all way) )*"
        self.yarn = re.compile(rf"{yarn}(?= )(?!{_any(('needle',))})")
        lead = rf"(?:{verb} )?{carried}{through} "
        number = rf"(?:(?:next|first|last|{remaining}|{_any(hook['both'])}|other|same|these|of|all) )*(?P<number>\d+)"
        count = (
            rf"(?:{number}(?! ?{unit} )(?: (?:{remaining}|last|of|tall|long|other))*(?: {loop})?"
            rf"|(?P<all>{remaining}(?: of)?(?: {loop})?|{remaining} on hook|(?:loops|lps)(?= on hook))"
            rf"|(?P<both>{_any(hook['both'])}(?: {loop})?))(?: (?:left|remaining|on|hook|at|same|time|together|as one))*"
        )
        self.pull = re.compile(rf"{lead}{count}(?= )")
        self.slip = re.compile(
            rf"(?:{verb} )?{carried}(?:directly |immediately |on |also )*{through} (?:both )?"
            rf"(?:(?:same |next )?{unit} )+, (?:also )?(?:{through} )?(?:{loop})(?: on hook)?(?= )"
        )
        self.straight = re.compile(
            rf"(?:{verb} )?{carried}straight on {through} (?P<number>\d+|loop|lp)(?: {loop})?(?: on hook)?(?= )"
        )
        self.last = re.compile(
            rf"(?:{verb} )?{carried}(?:on |also |both )*{through} (?:1 )?(?:loop|lp)(?: (?:already )?on hook)?(?= )"
        )
        stop = rf"(?<= )(?:{yarn}|{draw}|{_any(hook['let_go'])}) "
        tail = _STOP % stop
        self.draw = re.compile(
            rf"{draw} (?:(?:up|out|back|through|on|hook) )*(?P<adjectives>(?:(?!{loop} )[a-z\d.]+ ){{0,4}}?){loop}(?= )"
            rf"(?: (?:up|through|thru|out|back|over))*(?P<tail>{tail})"
            rf"|(?:{draw} (?:(?:{strand}|hook|up|out|back) )*(?:{through}|up)|(?:back )?{through}(?= (?:{unit}|front|[,;.)]) ?))(?P<rest>{tail})"
            rf"|{draw} {strand}(?= [,;.)\]])"
        )
        self.insert = re.compile(rf"{insert}(?= )(?: hook)?(?P<place>{tail})")
        self.drop = re.compile(
            rf"{_any(hook['let_go'])} (?:\w+ )?(?:hook|{loop})(?= )(?: (?:go|out|off|from|of)\b[^,;.()]*)?"
            rf"|{_any(hook['slip_off'])} (?:\w+ )?(?:hook|{loop}) (?:go|out|off|from)\b[^,;.()]*"
        )
        self.take_up = re.compile(
            rf"(?:{_any(hook['take_up'])} [^,;.()]*?(?:{loop}|it|dropped)(?= )[^,;.()]*"
            rf"|{insert}(?: hook)?(?: back)?(?: in| into)? (?:dropped|free|released|live|working) {loop}[^,;.()]*)"
        )
        self.finish = re.compile(rf"{_any(hook['finish'])} (?:as |for |like )*")
        self.unfinished = re.compile(rf"{_any(hook['held_back'])} |\b{_any(hook['unfinished'])} ")
        self.skip = re.compile(rf"{_any(hook['skip'])} (?:next )?(?P<number>\d+)?[^,;.()]*")
        self.repeat = re.compile(rf"{_any(hook['repeat'])}(?= )[^.;()\[\]]*?(?={_TIMES})")
        self.tall, self.level = frozenset(hook["tall"]), frozenset(hook["level"])
        self.units = frozenset(word for said in hook["unit"] for word in said.split())
        self.places: Mapping[str, str] = {
            bare_words(said, words.language).strip(): where for where, all in words.places.items() for said in all
        }
        recipes = [one for stitch in dictionary().values() for one in stitch.recipe if one.where]
        self.hows = {
            bare_words(one.where, words.language).strip(): one.where
            for one in recipes
            if one.act in ("draw up", "pull through")
        }


@cache
def _grammar(language: str) -> _Grammar:
    return _Grammar(vocabulary(language))


def _any(phrases: Iterable[str]) -> str:
    return "(?:" + "|".join(re.escape(one) for one in sorted(set(phrases), key=lambda said: -len(said))) + ")"


_TIMES_AT = re.compile(_TIMES)
_UNTIL_AT = re.compile(_UNTIL)
_OPENING = re.compile(r"[(\[{] ")


class _Scan:
    """Goes through the bare words once. `more` is how "repeat twice" is taken, `unsure` whether it was met."""

    def __init__(self, text: str, language: str, more: bool, name: str) -> None:
        self.text = text
        self.at = 0
        self.grammar = _grammar(language)
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
        if times is None and (_ASIDE.search(inside) or begun == 0 and not inner):
            self.hook = hook
            return
        until = _UNTIL_AT.match(self.text, self.at - 1) if times is None else None
        pulls = [move for move in inner if move.act != YARN]
        if until is not None and len(pulls) == 1 and pulls[0].act == "pull through":
            self.at = until.end() + 1
            out.append(Move(YARN))
            out.append(Move(UNTIL, pulls[0].loops, until["left"]))
            return
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
        number = int(found["n"] or found["x"] or found["b"] or {"once": 1, "twice": 2, "thrice": 3}[found["w"]])
        more = any(found[f"more{one}"] for one in (1, 2, 3, 4))
        return min(number + 1 if more else number, 99)

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
        if not any(said[f"more{one}"] for one in (1, 2, 3, 4)):
            self.unsure = True
            times += 1 if self.more else 0
        out += out[star:] * (times - 1)
        return True

    def _movement(self, out: list[Move], end: int) -> bool:
        """The movement that begins here, if one does; moves over it."""
        return (
            self._taken_up(out, end)
            or self._dropped(out, end)
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
        place = "next" if number > 1 else self._place(tail) if last != "insert" else ""
        again = (
            int(times["n"] or times["x"] or times["b"] or {"once": 1, "twice": 2, "thrice": 3}[times["w"]])
            if times
            else 1
        )
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
        place = self._place(said)
        out.append(Move("insert", 1, place if times is None else "next"))
        return True

    def _place(self, said: str) -> str:
        """A place in the words of recipes: `next`, `same`, empty where nothing is said, or as the words have it."""
        known = self.grammar.places.get(said)
        if known is not None:
            return known
        said = re.sub(r"^(?:(?:in|into|through|under|from|at|hook|up|of) )+", "", said + " ").strip()
        known = self.grammar.places.get("in " + said)
        if known is not None:
            return known
        if _POSTED.search(said):
            sides = re.findall(r"\b(?:front|back)\b", said)
            named = re.findall(r"\b(?:fp|bp|front|back)", self.name)
            side = sides[0] if sides else {"b": "back"}.get(named[0][0], "front") if named else "front"
            onward = NEXT_ONE if "next" in said.split() or "following" in said.split() else ""
            return f"{onward}post from {side}"
        if _ROWS_BELOW.search(said):
            return "n rows below"
        words = said.split()
        if "same" in words or "base" in words:
            return "same"
        if not words or set(words) <= self.grammar.units | {
            "indicated",
            "specified",
            "designated",
            "given",
            "or",
            "desired",
        }:
            return ""
        if "next" in words or "following" in words or "each" in words:
            return "next" if not {"loop", "lp", "loops", "bar", "bump"} & set(words) else said
        found = self.grammar.words.find(words, 0)
        if found is not None and found.kind == "stitch" and found.length == len(words):
            return ""
        if words[0] in ("first", "1st") or " first " in f" {said} ":
            return "top of first" if self.taken_up or self.dropped else ""
        if words[-1] in ("indicated", "specified", "directed", "shown"):
            return ""
        plain = " ".join(word for word in words if re.fullmatch(r"[\w'/-]+", word))
        try:
            return Operation("insert", 1, plain).where
        except ValueError:
            return ""

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
        place = "next" if each is not None else self._place(said)
        joined = stitch.endswith("_together") and place == "same"
        for _ in range(min(number, 99)):
            for one in recipe:
                where = one.where
                if one.act == "insert" and not where:
                    where = "next" if stitch.endswith("_together") and not joined else place
                out.append(Move(one.act, one.loops, where))
        return True
