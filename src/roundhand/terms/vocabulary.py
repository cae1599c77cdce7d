"""The words of one language, looked up by the longest run of words that means something."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cache, cached_property
from importlib import resources

import msgspec

from roundhand.stitches import dictionary
from roundhand.terms.files import WordFile
from roundhand.terms.forms import Forms
from roundhand.terms.periods import Period

# How a text falls apart into words: ordinals (2nd), numbers, words (with the number of sc2tog), and single marks.
# The star is doubled for "ending last repeat at **". The same pattern cuts a page and the spellings in the files.
WORDS = re.compile(
    r"(?P<ordinal>(?=\d)(?:\d*1[sS][tT]|\d*2[nN]?[dD]|\d*3[rR]?[dD]|\d+[tT][hH])(?![^\W_]))"
    r"|(?P<number>\d+(?:\.\d+)?|[\u00bc-\u00be\u2150-\u215e])"
    r"|(?P<word>[^\W\d_]+(?:\d+tog(?![^\W_]))?(?:['\u2019][^\W\d_]+)?)"
    r"|(?P<mark>\*+|[^\s])"
)
# The same cut with the white space between the words, so that the pieces join to the text again; without names, for
# a page is cut faster so.
PIECES = re.compile(r"\s+|" + re.sub(r"\(\?P<\w+>", "(?:", WORDS.pattern))

_DATA = resources.files("roundhand.terms") / "data"
# A stitch word with a number and "tog" is a decrease of that stitch: sc2tog, htr3tog.
_TOGETHER = re.compile(r"(.*?)(\d+)tog$")
_NOTHING: Mapping[str, str] = {}
_WORDS_ONLY = re.compile(r"[^\W\d_]+(?: [^\W\d_]+)*")


class Meaning(msgspec.Struct, frozen=True):
    """What a run of words stands for.

    `kind` is `stitch` (then `value` is the stitch's id) or `word` (then `value` is the concept). `length` is the
    number of words taken.
    """

    kind: str
    value: str
    length: int


class Vocabulary:
    """The words of one language.

    >>> us, uk = vocabulary("US"), vocabulary("UK")
    >>> us.find(["half", "double", "crochet", "in"], 0)
    Meaning(kind='stitch', value='half_double', length=3)
    >>> us.find(["dc"], 0).value, uk.find(["dc"], 0).value
    ('double', 'single')
    >>> us.find(["fpdc"], 0).value, uk.find(["dc2tog"], 0).value
    ('front_post_double', 'single_2_together')
    """

    def __init__(self, language: str, files: Sequence[WordFile], instead: Mapping[str, str] = _NOTHING) -> None:
        self.language = language
        # The side of the ocean whose terms and spelling of today are nearest.
        self.side: str = files[0].data.get("side", language)
        self.period = Period.of(files)
        # Ordinary words that are stitches only where they are counted or pointed at.
        self.counted: dict[str, str] = {}
        # Words of translated patterns, which are read and never printed.
        self.translated: dict[str, str] = {}
        self._entries: dict[str, list[tuple[tuple[str, ...], str, str]]] = {}
        self._abbreviations: dict[str, str] = {}
        self.filler: frozenset[str] = frozenset()
        self.colours: frozenset[str] = frozenset()
        self.proofs: frozenset[str] = frozenset()
        self.hints: frozenset[str] = frozenset()
        # How the movements of the hook are said in a definition, where they happen, and how an explanation says them.
        self.hook: dict[str, tuple[str, ...]] = {}
        self.places: dict[str, tuple[str, ...]] = {}
        self.says: dict[str, str] = {}
        templates: dict[str, Sequence[str]] = {}
        spellings: dict[str, list[tuple[str, ...]]] = {}
        taken: dict[tuple[str, ...], str] = {}
        for file in files:
            data = file.data
            for stitch, said in data.get("stitches", {}).items():
                if stitch not in dictionary():
                    raise file.error(f'there is no stitch "{stitch}"', stitch)
                self._abbreviations.setdefault(stitch, said[0])
                for spelling in said:
                    own = instead.get(spelling, stitch)
                    words = self._add(spelling, "stitch", own)
                    other = taken.setdefault(words, own)
                    if other != own:
                        raise file.error(f'"{spelling}" means "{stitch}" and "{other}"', stitch, spelling)
                    spellings.setdefault(own, []).append(words)
            for form, said in data.get("forms", {}).items():
                templates.setdefault(form, said)
            for stitch, said in data.get("counted", {}).items():
                self.counted |= dict.fromkeys(said, stitch)
            for stitch, said in data.get("translated", {}).items():
                for spelling in said:
                    self._add(spelling, "stitch", stitch)
                    self.translated[spelling] = stitch
            self.filler |= frozenset(data.get("filler", {}).get("words", ()))
            self.colours |= frozenset(data.get("colours", {}).get("names", ()))
            self.proofs |= frozenset(data.get("proves", {}).get("words", ()))
            self.hints |= frozenset(data.get("proves", {}).get("hints", ()))
            self.says = data.get("says", {}) | self.says
            for table, known in (("hook", self.hook), ("places", self.places)):
                for name, phrases in data.get(table, {}).items():
                    known[name] = (*known.get(name, ()), *phrases)
        self._add_forms(Forms(templates), spellings, taken, files[0])
        for file in files:
            for concept, said in file.data.get("words", {}).items():
                for spelling in said:
                    words = self._add(spelling, "word", concept)
                    if words in taken:
                        raise file.error(f'"{spelling}" means "{taken[words]}" and "{concept}"', concept, spelling)
        self._seconds: dict[str, frozenset[str]] = {}
        for first, entries in self._entries.items():
            entries.sort(key=lambda entry: -len(entry[0]))
            self._seconds[first] = frozenset(words[1] for words, _, _ in entries if len(words) > 1)

    def _add(self, spelling: str, kind: str, value: str) -> tuple[str, ...]:
        words = _words(spelling)
        self._entries.setdefault(words[0], []).append((words, kind, value))
        return words

    def _add_forms(
        self,
        forms: Forms,
        spellings: Mapping[str, Sequence[tuple[str, ...]]],
        taken: dict[tuple[str, ...], str],
        file: WordFile,
    ) -> None:
        """The forms that follow from a stitch's words: round the post, long, several in a cluster."""
        known = dictionary()
        for stitch, said in spellings.items():
            for form, words in forms.of(stitch, said, known):
                other = taken.setdefault(words, form)
                if other == form:
                    self._entries.setdefault(words[0], []).append((words, "stitch", form))
                    if form not in self._abbreviations:
                        self._abbreviations[form] = " ".join(words).replace(" - ", "-")
                else:
                    spelling = " ".join(words)
                    raise file.error(f'"{spelling}" means "{form}" and "{other}"', other, spelling)

    def find(self, words: Sequence[str], start: int) -> Meaning | None:
        """The meaning of the longest run of lower-case words from `start` that the language knows, or None."""
        word = words[start]
        for spelling, kind, value in self._entries.get(word, ()):
            length = len(spelling)
            if length == 1 or tuple(words[start : start + length]) == spelling:
                return Meaning(kind, value, length)
        together = _TOGETHER.match(word) if word.endswith("tog") else None
        if together is not None:
            return self._together(together[1], together[2])
        return None

    def opens(self, word: str) -> bool:
        """Whether anything that the language knows begins with this word."""
        return word in self._entries

    def goes_on(self, word: str) -> frozenset[str]:
        """The words that may stand behind this one in a run with a meaning of its own.

        >>> sorted(vocabulary("US").goes_on("half")), sorted(vocabulary("US").goes_on("turn"))
        (['-', 'double'], [])
        """
        return self._seconds.get(word, frozenset())

    def _together(self, stem: str, number: str) -> Meaning | None:
        if not stem:
            return None
        found = self.find([stem], 0)
        if found is not None and found.kind == "stitch" and f"{found.value}_{number}_together" in dictionary():
            return Meaning("stitch", f"{found.value}_{number}_together", 1)
        return None

    def knows(self, word: str) -> bool:
        """Whether a single word stands anywhere in the language."""
        return word in self._entries or word in self.filler or self.find([word], 0) is not None

    def short(self, stitch: str) -> str:
        """The usual short word for a stitch id; the id in plain words where the language has none.

        >>> vocabulary("UK").short("half_double"), vocabulary("US").short("half_double_2_together")
        ('htr', 'hdc2tog')
        """
        if stitch in self._abbreviations:
            return self._abbreviations[stitch]
        together = re.match(r"(\w+)_(\d+)_together$", stitch)
        if together is not None and together[1] in self._abbreviations:
            return f"{self._abbreviations[together[1]]}{together[2]}tog"
        return stitch.replace("_", " ")

    @cached_property
    def full_names(self) -> Mapping[str, str]:
        """The fullest name of every stitch: of its spellings in whole words, in the singular, the longest; a last
        `stitch` goes where the name is known without it.

        >>> vocabulary("UK").full_names["double"]
        'treble crochet'
        """
        spellings: dict[str, list[str]] = {}
        for spelling, stitch in self.stitch_words():
            spellings.setdefault(stitch, []).append(spelling)
        names: dict[str, str] = {}
        for stitch, known in spellings.items():
            full = [
                name
                for name in known
                if _WORDS_ONLY.fullmatch(name)
                and all(len(word) > 3 for word in name.split())
                and not (name.endswith("s") and name[:-1] in known)
                and "stitches" not in name
                and not (name.endswith(" stitch") and name.removesuffix(" stitch") in known)
            ]
            if full:
                names[stitch] = max(full, key=len)
        return names

    def stitch_words(self) -> Iterator[tuple[str, str]]:
        """Every spelling of a stitch with the id it stands for."""
        for entries in self._entries.values():
            for words, kind, value in entries:
                spelling = " ".join(words)
                if kind == "stitch" and spelling not in self.translated:
                    yield spelling, value

    def single_words(self) -> Iterator[str]:
        """Every first word that the language knows, for suggestions."""
        yield from self._entries


@cache
def _words(spelling: str) -> tuple[str, ...]:
    """The words of a spelling; kept, because the languages of one tongue share most of them."""
    return tuple(found[0] for found in WORDS.finditer(spelling.lower()))


@cache
def _read(name: str) -> WordFile:
    return WordFile(f"{name}.toml", (_DATA / f"{name}.toml").read_text(encoding="utf-8"))


@cache
def languages() -> tuple[str, ...]:
    """The languages that patterns are read and printed in, as they are named in `Terms:`.

    >>> languages()
    ('UK', 'US')
    """
    names = sorted(entry.name.removesuffix(".toml") for entry in _DATA.iterdir() if entry.name.endswith(".toml"))
    return tuple(name.upper() for name in names if name != "english")


@cache
def older() -> tuple[str, ...]:
    """The vocabularies of older books, which are read and never printed in, as they are named in `Terms:`.

    >>> older()
    ('older UK', 'older US', '1940s US')
    """
    return tuple(_older_files())


@cache
def _older_files() -> Mapping[str, WordFile]:
    """The files of older vocabularies by their names; a file without one is only extended by others."""
    names = sorted(entry.name.removesuffix(".toml") for entry in (_DATA / "older").iterdir())
    files = [_read(f"older/{name}") for name in names if name.isidentifier()]
    return {file.data["language"]: file for file in files if "language" in file.data}


@cache
def vocabulary(language: str, instead: tuple[tuple[str, str], ...] = ()) -> Vocabulary:
    """The words of a language, read once; raises KeyError where no such file is packaged.

    `instead` are words of an older book with the stitches that they are in this one: see `[contested]` in its file.

    >>> vocabulary("older US").find(["double", "long"], 0).value
    'treble'
    >>> vocabulary("older US", (("double long", "double_treble"),)).find(["double", "long"], 0).value
    'double_treble'
    """
    files = [_older_files()[language] if language in older() else _read(_modern(language))]
    while "extends" in files[-1].data:
        files.append(_read(files[-1].data["extends"]))
    return Vocabulary(language, files, dict(instead))


def side(language: str) -> str:
    """The side of the ocean whose terms and spelling are nearest: `US` or `UK`; KeyError as for `vocabulary`.

    >>> side("UK"), side("1940s US")
    ('UK', 'US')
    """
    return vocabulary(language).side


def _modern(language: str) -> str:
    if language not in languages():
        raise KeyError(f"no words are packaged for the language {language!r}")
    return language.lower()
