"""The patterns that movements of the hook are found by, put together from the phrases of the room of terms."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import cache

from roundhand.measures import number_word
from roundhand.notation.tokens import cut
from roundhand.terms import Vocabulary, vocabulary

# How often, behind a bracket or a movement.
TIMES = (
    r"(?: [,] (?=\d+ (?:more )?times))?(?: in all)?"
    r" (?:(?P<more1>another )?(?P<n>\d+) (?P<more2>more )?times?(?P<more3> more)?|x (?P<x>\d+)"
    r"|\( (?P<b>\d+) times? \)|(?P<w>once|twice|thrice)(?P<more4> more)?)(?! and)"
)
_STOP = r"(?:(?!%s)[^,;.:()\[\]{}*])*"
_MARKS = frozenset("()[]{},;.:*")
_DASHES = frozenset("-\u2013\u2014\u2212")


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


class Grammar:
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
            rf"|(?P<both>{_any(hook['both'])}(?: {loop})?))"
            r"(?: (?:left|remaining|on|hook|at|same|time|together|as one))*"
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
            rf"|(?:{draw} (?:(?:{strand}|hook|up|out|back) )*(?:{through}|up)"
            rf"|(?:back )?{through}(?= (?:{unit}|front|[,;.)]) ?))(?P<rest>{tail})"
            rf"|{draw} {strand}(?= [,;.)\]])"
        )
        self.insert = re.compile(rf"{insert}(?= )(?: hook)?(?P<place>{tail})")
        self.strands = re.compile(
            rf"(?:{_any(hook['take_up'])}|hook|{draw}) (?:both |2 )+(?:strands?|yarns|threads|ends)\b"
            rf"(?:[^,;.()]*? , {draw} (?:(?:{strand}|{loop}|them|both|up|out) )*{through}(?! \d)[^,;.()]*|[^,;.()]*)"
        )
        self.drop = re.compile(
            rf"{_any(hook['let_go'])} (?:\w+ )?(?:hook|{loop})(?= )(?: (?:go|out|off|from|of)\b[^,;.()]*)?"
            rf"|{_any(hook['slip_off'])} (?:\w+ )?(?:hook|{loop}) (?:go|out|off|from)\b[^,;.()]*"
        )
        self.take_up = re.compile(
            rf"(?:{_any(hook['take_up'])} [^,;.()]*?(?:{loop}|it|dropped)(?= )[^,;.()]*"
            rf"|{insert}(?: hook)?(?: back)?(?: in| into)? (?:dropped|free|released|live|working) {loop}[^,;.()]*)"
        )
        self.finish = re.compile(rf"{_any(hook['finish'])} (?:as |for |like )*")
        self.held = re.compile(rf"{_any(hook['held_back'])} [^,;.()]*")
        self.unfinished = re.compile(rf"{_any(hook['held_back'])} |\b{_any(hook['unfinished'])} ")
        self.skip = re.compile(rf"{_any(hook['skip'])} (?:next )?(?P<number>\d+)?[^,;.()]*")
        self.repeat = re.compile(rf"{_any(hook['repeat'])}(?= )[^.;()\[\]]*?(?={TIMES})")
        self.tall, self.level = frozenset(hook["tall"]), frozenset(hook["level"])
        self.units = frozenset(word for said in hook["unit"] for word in said.split())
        self.places: Mapping[str, str] = {
            bare_words(said, words.language).strip(): where for where, all in words.places.items() for said in all
        }
        # How a loop is drawn, in the words of recipes. The words stand in the room of terms, for asking every recipe
        # would read the whole dictionary before the first definition.
        self.hows = {bare_words(how, words.language).strip(): how for how in hook["how"]}


@cache
def grammar_of(language: str) -> Grammar:
    """The patterns of a language, put together once."""
    return Grammar(vocabulary(language))


def _any(phrases: Iterable[str]) -> str:
    return "(?:" + "|".join(re.escape(one) for one in sorted(set(phrases), key=lambda said: -len(said))) + ")"
