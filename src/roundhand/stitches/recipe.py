"""Recipes: a stitch as the movements of the hook, and the law of the loops on it.

Work begins and ends with one loop on the hook. A yarn over and a loop drawn up each add one; pulling through N loops
takes N off and leaves the new one; slipping through N draws the newest loop on through N others without new yarn, as a
slip stitch does; an insertion changes nothing. A popcorn lets its one loop go and takes it up again.

The law and the operation words are common practice of the trade; a recipe is written

    yo, insert, draw up, pull through 2 x 2              a movement and how many times
    (yo, insert, draw up, pull through 2) x 3, ...       a passage and how many times
    insert post from front, draw up, ...                 a movement and where it happens

An insertion that says nothing goes into the next place; `insert same` goes where the one before it went.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache

import msgspec

# What each movement adds to the hook: a fixed number of loops, and so many more for each loop it names.
_ADDS: Mapping[str, tuple[int, int]] = {
    "yarn over": (1, 0),
    "insert": (0, 0),
    "draw up": (1, 0),
    "pull through": (1, -1),
    "slip through": (0, -1),
    "drop loop": (-1, 0),
    "pick up dropped loop": (1, 0),
}
_PLACED = frozenset({"insert", "draw up", "pull through", "slip through"})
_COUNTED = frozenset(act for act, (_, each) in _ADDS.items() if each)
_SHORT = {"yarn over": "yo"}
_PHRASES = {tuple(said.split()): act for act in _ADDS for said in (act, _SHORT.get(act, act))}
_LONGEST = max(map(len, _PHRASES))
_SAID = ", ".join(_SHORT.get(act, act) for act in _ADDS)

_TOKEN = re.compile(r"[(),]|[^\s(),]+")
_PLAIN = re.compile(r"[\w'/-]+")
_TIMES = re.compile(r"[x×](\d*)")

# Bounds that no stitch comes near, so that a slip of the keyboard is told and never waited for.
_MOST_TIMES = 999
_NO_NUMBER = f"is not a number from 1 to {_MOST_TIMES}"
_MOST_OPERATIONS = 1000
_DEEPEST = 16


class RecipeError(ValueError):
    """A recipe that cannot be read. `word` is what stands in the way, `start` its offset from 0 in the recipe."""

    def __init__(self, reason: str, word: str, start: int) -> None:
        super().__init__(reason)
        self.word = word
        self.start = start


class Operation(msgspec.Struct, frozen=True):
    """One movement of the hook.

    `act` is one of `yarn over`, `insert`, `draw up`, `pull through`, `slip through`, `drop loop` and
    `pick up dropped loop`. `loops` is how many loops are pulled or slipped through, and 1 for every other movement
    (two yarn overs are two operations). `where` says in plain words where the movement happens (`same`,
    `post from front`, `n rows below`); empty means the usual place.

    Raises ValueError for a movement that does not exist or that cannot be written in a recipe.

    >>> Operation("pull through", 3)
    Operation(act='pull through', loops=3, where='')
    >>> Operation("wiggle")
    Traceback (most recent call last):
    ValueError: there is no movement of the hook called "wiggle"
    """

    act: str
    loops: int = 1
    where: str = ""

    def __post_init__(self) -> None:
        if self.act not in _ADDS:
            raise ValueError(f'there is no movement of the hook called "{self.act}"')
        if not 1 <= self.loops <= (_MOST_TIMES if self.act in _COUNTED else 1):
            raise ValueError(f'"{self.act}" cannot be done with {self.loops} loops')
        if not self.where:
            return
        words = self.where.split()
        if " ".join(words) != self.where or not all(map(_PLAIN.fullmatch, words)):
            raise ValueError(f'"{self.where}" does not say a place in plain words')
        slip = _misplaced(self.act, words)
        if slip is not None:
            raise ValueError(f'"{words[slip[0]]}" {slip[1]}')


def read_recipe(text: str) -> tuple[Operation, ...]:
    """The movements that a recipe spells out, in order.

    Raises RecipeError, naming the word and where it stands (characters from 1), for anything that is no movement.

    >>> [operation.act for operation in read_recipe("insert, draw up, pull through 2")]
    ['insert', 'draw up', 'pull through']
    >>> len(read_recipe("(yo, insert, draw up, pull through 2) x 3, pull through 4"))
    13
    >>> read_recipe("yo, insrt, draw up")
    Traceback (most recent call last):
    roundhand.stitches.recipe.RecipeError: "insrt" at character 5 is no movement of the hook; there are yo, insert, \
draw up, pull through, slip through, drop loop, pick up dropped loop
    """
    return tuple(_Reader(text).whole())


def write_recipe(recipe: Sequence[Operation]) -> str:
    """A recipe in words, repeated passages folded; `read_recipe` reads it back to the same movements.

    Nothing is said of no movements at all, and that cannot be read back.

    >>> write_recipe(read_recipe("yo, yo, insert, draw up, pull through 2, pull through 2, pull through 2"))
    'yo x 2, insert, draw up, pull through 2 x 3'
    """
    said: list[str] = []
    at = 0
    while at < len(recipe):
        length, times = _fold(recipe, at)
        words = write_recipe(recipe[at : at + length]) if length > 1 else _say(recipe[at])
        if times > 1:
            words = f"({words}) x {times}" if length > 1 else f"{words} x {times}"
        said.append(words)
        at += length * times
    return ", ".join(said)


def loops(recipe: Sequence[Operation]) -> tuple[int, ...]:
    """Loops on the hook after each movement, starting from the one that work begins with.

    Plain arithmetic: a recipe that asks for more loops than there are gives numbers below 1 (see `closes`).

    >>> loops(read_recipe("yo, insert, draw up, pull through 3"))
    (2, 2, 3, 1)
    """
    counts: list[int] = []
    count = 1
    for operation in recipe:
        fixed, each = _ADDS[operation.act]
        count += fixed + each * operation.loops
        counts.append(count)
    return tuple(counts)


def peak(recipe: Sequence[Operation]) -> int:
    """The most loops on the hook at once, the one it begins with included.

    >>> peak(read_recipe("yo x 2, insert, draw up, pull through 2 x 3")), peak(())
    (4, 1)
    """
    return max((1, *loops(recipe)))


def closes(recipe: Sequence[Operation]) -> bool:
    """Whether a stitch comes out: every movement has the loops it needs, and one loop is left.

    Only while the loop is let go, as in a popcorn, may the hook be empty.

    >>> closes(read_recipe("yo, insert, draw up, pull through 3"))
    True
    >>> closes(read_recipe("yo, insert, draw up, pull through 2"))
    False
    >>> closes(read_recipe("insert, pull through 2, draw up"))
    False
    """
    short, count, dropped = _work(recipe)
    return short is None and count == 1 and not dropped


def lacking(recipe: Sequence[Operation]) -> int | None:
    """The index of the first movement that has not the loops it needs; None where all can be done.

    >>> lacking(read_recipe("yo, insert, draw up, pull through 2, pull through 3"))
    4
    >>> lacking(read_recipe("yo, insert, draw up, pull through 2")) is None
    True
    """
    return _work(recipe)[0]


def needed_to_close(recipe: Sequence[Operation]) -> int | None:
    """The number of loops the last pull-through must name for one loop to be left.

    A pull-through of 1 behind a larger one is a chain that locks the stitch and is looked past. None where there is
    no pull-through, or where no number would do.

    >>> needed_to_close(read_recipe("yo, insert, draw up, pull through 2"))
    3
    >>> needed_to_close(read_recipe("(yo, insert, draw up) x 3, pull through 6, pull through 1"))
    7
    >>> needed_to_close(read_recipe("yo, insert, draw up")) is None
    True
    """
    pulls = [at for at, operation in enumerate(recipe) if operation.act == "pull through"]
    if not pulls:
        return None
    last = max((at for at in pulls if recipe[at].loops > 1), default=pulls[-1])
    # Each loop more in this one pull-through is one loop fewer at the end, so the surplus over one loop is what lacks.
    number = recipe[last].loops + loops(recipe)[-1] - 1
    if not 1 <= number <= _MOST_TIMES:
        return None
    mended = [*recipe[:last], Operation("pull through", number, recipe[last].where), *recipe[last + 1 :]]
    return number if closes(mended) else None


def _work(recipe: Sequence[Operation]) -> tuple[int | None, int, bool]:
    """Works a recipe: the first movement that lacks a loop, the loops at the end or there, whether one is let go."""
    count, dropped = 1, False
    for at, operation in enumerate(recipe):
        act = operation.act
        fixed, each = _ADDS[act]
        count += fixed + each * operation.loops
        if act == "drop loop" or act == "pick up dropped loop":
            if dropped is (act == "drop loop"):
                return at, count, dropped
            dropped = not dropped
        if count < 1 and not (dropped and count == 0):
            return at, count, dropped
    return None, count, dropped


def _say(operation: Operation) -> str:
    words = _SHORT.get(operation.act, operation.act)
    if operation.act in _COUNTED:
        words += f" {operation.loops}"
    return f"{words} {operation.where}" if operation.where else words


def _fold(recipe: Sequence[Operation], at: int) -> tuple[int, int]:
    """Length and number of the repeats that say the most of what begins at `at`; the shortest passage of equals.

    A passage begins where a stitch would: brackets round "draw up, pull through 2, yo, insert" fold well and teach
    nobody.
    """
    best = (1, 1)
    for length in range(1, (len(recipe) - at) // 2 + 1):
        if length > 1 and recipe[at].act not in ("yarn over", "insert"):
            break
        passage = tuple(recipe[at : at + length])
        times = 1
        while tuple(recipe[at + times * length : at + (times + 1) * length]) == passage:
            times += 1
        if times > 1 and length * times > best[0] * best[1] and times <= _MOST_TIMES:
            best = (length, times)
    return best


def _movement(words: Sequence[str]) -> tuple[str, int] | None:
    """The movement that words begin with and how many of them name it."""
    for length in range(min(_LONGEST, len(words)), 0, -1):
        act = _PHRASES.get(tuple(words[:length]))
        if act is not None:
            return act, length
    return None


def _misplaced(act: str, words: Sequence[str]) -> tuple[int, str] | None:
    """Which of the words behind a movement cannot say where it happens, and why."""
    said = _SHORT.get(act, act)
    for at, word in enumerate(words):
        if _movement(words[at:]) is not None:
            return at, f'follows "{said}" without a comma'
        if _TIMES.fullmatch(word):
            return at, "must stand last and be followed by a number"
        if not _PLAIN.fullmatch(word):
            return at, "is not a plain word"
        if act not in _PLACED:
            return at, f'cannot follow "{said}", which needs no place'
    return None


# Few movements make up all recipes, so each is read once and shared.
@lru_cache(maxsize=1024)
def _operation(words: tuple[str, ...]) -> Operation | tuple[int, str]:
    """The movement that words say, or which of them is in the way and why."""
    named = _movement(words)
    if named is None:
        return 0, f"is no movement of the hook; there are {_SAID}"
    act, length = named
    number = 1
    if act in _COUNTED:
        if length == len(words) or not _is_number(words[length]):
            return 0, f'does not say how many loops to "{act}"'
        said = _number(words[length])
        if said is None:
            return length, _NO_NUMBER
        number = said
        length += 1
    slip = _misplaced(act, words[length:])
    return Operation(act, number, " ".join(words[length:])) if slip is None else (length + slip[0], slip[1])


def _is_number(word: str) -> bool:
    return word.isascii() and word.isdigit()


def _number(digits: str) -> int | None:
    """The number that digits write; None if it is out of bounds."""
    # The length is looked at first, because Python refuses to read numbers of several thousand digits.
    number = int(digits) if len(digits) <= len(str(_MOST_TIMES)) else 0
    return number if 1 <= number <= _MOST_TIMES else None


class _Reader:
    """Reads a recipe from left to right, a token at a time."""

    def __init__(self, text: str) -> None:
        self.tokens = [(found[0], found.start()) for found in _TOKEN.finditer(text)]
        self.end = len(text)
        self.at = 0

    def whole(self) -> list[Operation]:
        recipe = self.series(0)
        if self.peek() == ")":
            raise self.slip("closes a bracket that was never opened")
        return recipe

    def series(self, depth: int) -> list[Operation]:
        """Movements and bracketed passages with commas between, up to a closing bracket or the end."""
        recipe: list[Operation] = []
        while True:
            recipe += self.passage(depth) if self.peek() == "(" else self.movement()
            if self.peek() in ("", ")"):
                return recipe
            if self.peek() != ",":
                raise self.slip("needs a comma before it")
            if len(recipe) > _MOST_OPERATIONS:
                raise self.slip(f"stands behind more than {_MOST_OPERATIONS} movements")
            self.at += 1

    def passage(self, depth: int) -> list[Operation]:
        """A bracketed passage, as often as it says."""
        opened = self.at
        if depth == _DEEPEST:
            raise self.slip(f"opens a bracket inside {_DEEPEST} others")
        self.at += 1
        recipe = self.series(depth + 1)
        if self.peek() != ")":
            raise self.slip("is never closed", opened)
        self.at += 1
        first = self.at
        words, times = self.times(self.words())
        if words:
            raise self.slip('cannot follow ")"; only "x" and a number of times can', first)
        return self.repeated(recipe, times)

    def movement(self) -> list[Operation]:
        """One movement, as often as it says."""
        first = self.at
        words, times = self.times(self.words())
        if not words:
            raise self.slip("needs a movement before it", first)
        found = _operation(tuple(words))
        if not isinstance(found, Operation):
            raise self.slip(found[1], first + found[0])
        return self.repeated([found], times)

    def words(self) -> list[str]:
        first = self.at
        while self.peek() not in ("", "(", ")", ","):
            self.at += 1
        return [word for word, _ in self.tokens[first : self.at]]

    def times(self, words: list[str]) -> tuple[list[str], int]:
        """The words without their number of times, and that number; 1 where none is said."""
        if len(words) > 1 and words[-2] in ("x", "×") and _is_number(words[-1]):
            return words[:-2], self.number(words[-1], self.at - 1)
        found = _TIMES.fullmatch(words[-1]) if words else None
        if found is None:
            return words, 1
        if not found[1]:
            raise self.slip("does not say how many times", self.at - 1)
        return words[:-1], self.number(found[1], self.at - 1)

    def number(self, digits: str, at: int) -> int:
        number = _number(digits)
        if number is None:
            raise self.slip(_NO_NUMBER, at)
        return number

    def repeated(self, recipe: list[Operation], times: int) -> list[Operation]:
        if len(recipe) * times > _MOST_OPERATIONS:
            raise self.slip(f"makes more than {_MOST_OPERATIONS} movements", self.at - 1)
        return recipe * times

    def peek(self) -> str:
        return self.tokens[self.at][0] if self.at < len(self.tokens) else ""

    def slip(self, reason: str, at: int | None = None) -> RecipeError:
        """The error that a token gives; the end of the recipe gives one too."""
        at = self.at if at is None else at
        if at >= len(self.tokens):
            return RecipeError(f"the end of the recipe {reason}", "", self.end)
        word, start = self.tokens[at]
        return RecipeError(f'"{word}" at character {start + 1} {reason}', word, start)
