"""The packaged stitches: TOML files read, tried against the laws of a stitch, and put together.

A file holds one stitch and is named after it, or holds a table for each of several stitches that differ only in a
number; what stands above the first table then holds for all of them. Heights are whole numbers or fractions in
quotes ("3/2"). A stitch without a usual turning chain leaves out both of its lines. A group of stitches has `parts` in
place of a recipe: ids in order, `x` and how often, and where they go if not in the group's place.

    parts = "double x 2, chain x 2, double x 2"
    parts = "chain x 3, slip_stitch in top of base stitch"

A file gives a symbol only where its shape is known from outside, or the rule of the room of symbols makes none; then it
also says how well it is known (`symbol_source`, `symbol_evidence`).

The packaged files are read one by one, when a stitch of theirs is asked for: a pattern needs few of them.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from roundhand.stitches.recipe import Operation, RecipeError, closes, lacking, loops, needed_to_close, read_recipe
from roundhand.stitches.stitch import EVIDENCE, PLACES, Part, Stitch

_UNSAID = "the pattern must say"
_TURNING = ("turning_chain", "turning_chain_counts")
_KEYS = (
    "family",
    "recipe",
    "parts",
    "uses",
    "makes",
    "shares",
    "place",
    "height_chains",
    "height",
    *_TURNING,
    "source",
    "evidence",
    "symbol",
    "symbol_source",
    "symbol_evidence",
)
_NAME = re.compile(r"[a-z]+(_([a-z]+|\d+))*")
_FRACTION = re.compile(r"\d{1,3}(/[1-9]\d{0,2})?")
_TABLE = re.compile(r"^[ \t]*\[[ \t]*\"?([^]\"\n]+?)\"?[ \t]*\]", re.MULTILINE)
_PART = re.compile(r"(?P<stitch>[a-z]\w*)( x (?P<count>[1-9]\d?))?( in (?P<where>[a-z][a-z ]*))?")


class StitchDataError(ValueError):
    """A stitch file that cannot be used. `file` is its name, `line` the line from 1."""

    def __init__(self, reason: str, file: str, line: int) -> None:
        super().__init__(f"{file}, line {line}: {reason}")
        self.file = file
        self.line = line


@cache
def dictionary() -> Mapping[str, Stitch]:
    """Every packaged stitch by its id, in the order of the ids; each is read once, when it is asked for.

    Raises StitchDataError if a packaged file is damaged.

    >>> sorted(id for id, stitch in dictionary().items() if stitch.family == "half_double" and stitch.uses == 3)
    ['half_double_3_together']
    """
    folder = files("roundhand.stitches") / "data"
    return _Stitches(
        {file.name: file.read_text(encoding="utf-8") for file in folder.iterdir() if file.name.endswith(".toml")}
    )


def read_stitches(texts: Mapping[str, str]) -> Mapping[str, Stitch]:
    """The stitches that files hold, given by name and text, by id in the order of the ids.

    Raises StitchDataError, naming file and line, for a file that is not TOML, a fact that is missing, unknown or of
    the wrong kind, a recipe that cannot be read or does not come out at one loop, an id that two files hold, a family
    or a part that none does, and a symbol that cannot be drawn, leaves its box or disagrees with the recipe.

    >>> read_stitches({"single.toml": 'recipe = "insert, draw up, pull through 3"'})
    Traceback (most recent call last):
    roundhand.stitches.reading.StitchDataError: single.toml, line 1: the recipe says pull through 3, and there are \
only 2 loops on the hook; pull through 2 would leave one
    """
    stitches = _Stitches(texts)
    found = {id: stitches[id] for id in stitches}
    for id in found:
        stitches.prove_family(id)
        stitches.prove_symbol(id)
    return MappingProxyType(found)


class _Stitches(Mapping[str, Stitch]):
    """Stitches by id. Where each stands is known at once; a file is read when one of its stitches is asked for."""

    def __init__(self, texts: Mapping[str, str]) -> None:
        self._files: dict[str, _File] = {}
        self._read: dict[str, Stitch] = {}
        # Stitches that are being put together, so that a group inside itself is told and not followed for ever.
        self._open: list[str] = []
        for name in sorted(texts):
            file = _File(name, texts[name])
            for id in file.ids():
                if id in self._files:
                    raise file.error(f'"{id}" stands in {self._files[id].name} too', id)
                self._files[id] = file
        self._ids = tuple(sorted(self._files))

    def __getitem__(self, id: str) -> Stitch:
        found = self._read.get(id)
        if found is None:
            file = self._files[id]
            self._open.append(id)
            found = self._read[id] = self._stitch(file, id, file.facts_of(id))
            self._open.pop()
        return found

    def get(self, id: str, default: Stitch | None = None) -> Stitch | None:  # type: ignore[override]
        """The stitch, or the default for an id that none has: asked for more often than anything else."""
        found = self._read.get(id)
        if found is not None:
            return found
        return self[id] if id in self._files else default

    def __contains__(self, id: object) -> bool:
        return id in self._files

    def __iter__(self) -> Iterator[str]:
        return iter(self._ids)

    def __len__(self) -> int:
        return len(self._ids)

    def prove_family(self, id: str) -> None:
        """Raises StitchDataError where the plain stitch that one is a form of is missing, or is a form itself."""
        family = self[id].family
        if family not in self:
            raise self._files[id].error(f'no file holds the family "{family}"', id, "family")
        if self[family].family != family:
            raise self._files[id].error(
                f'the family "{family}" is itself a form of "{self[family].family}"', id, "family"
            )

    def prove_symbol(self, id: str) -> None:
        """Raises StitchDataError where a symbol cannot be used."""
        # Charts alone draw symbols; a pattern is read without them.
        from roundhand.stitches.symbols import SymbolError, prove_symbol

        try:
            prove_symbol(self[id], self)
        except SymbolError as error:
            raise self._files[id].error(str(error), id, "symbol") from error

    def _parts(self, file: _File, id: str, text: str) -> tuple[tuple[Part, ...], tuple[Operation, ...]]:
        """The parts of a group, and its recipe: theirs, all in the place that the group is worked in."""
        parts: list[Part] = []
        recipe: list[Operation] = []
        for said in text.split(","):
            found = _PART.fullmatch(" ".join(said.split()))
            if found is None:
                reason = f'"{said.strip()}" is no part of a stitch; "double x 3" and "double in skipped" are'
                raise file.error(reason, id, "parts")
            stitch, count, where = found["stitch"], int(found["count"] or 1), found["where"] or ""
            if stitch not in self or stitch in self._open:
                reason = (
                    f'no file holds the part "{stitch}"' if stitch not in self else f'"{stitch}" is a part of itself'
                )
                raise file.error(reason, id, "parts")
            parts.append(Part(stitch, count, where))
            for _ in range(count):
                entered = any(one.act == "insert" for one in recipe)
                recipe += [_placed(one, where, entered) for one in self[stitch].recipe]
        return tuple(parts), tuple(recipe)

    def _stitch(self, file: _File, id: str, facts: dict[str, Any]) -> Stitch:
        """A stitch from its facts, each of the right kind."""
        if not _NAME.fullmatch(id):
            raise file.error(f'"{id}" is not an id: words and numbers in small letters, joined by _', id)
        for key in facts:
            if key not in _KEYS:
                raise file.error(f'"{key}" is not a fact of a stitch; there are {", ".join(_KEYS)}', id, key)
        if "parts" in facts and "recipe" in facts:
            raise file.error("a stitch has either a recipe or parts", id, "parts")
        parts: tuple[Part, ...] = ()
        if "parts" in facts:
            parts, recipe = self._parts(file, id, _text(file, id, facts, "parts"))
        else:
            recipe = _recipe(file, id, _text(file, id, facts, "recipe"))
        place, evidence = _text(file, id, facts, "place"), _text(file, id, facts, "evidence")
        if place not in PLACES:
            raise file.error(f'"{place}" is not a place; there are {", ".join(PLACES)}', id, "place")
        if evidence not in EVIDENCE:
            reason = f'"{evidence}" is not a kind of evidence; there are {", ".join(EVIDENCE)}'
            raise file.error(reason, id, "evidence")
        turning_chain, counts = _turning(file, id, facts)
        return Stitch(
            id=id,
            family=_text(file, id, facts, "family"),
            recipe=recipe,
            uses=_count(file, id, facts, "uses"),
            makes=_count(file, id, facts, "makes"),
            place=place,
            height_chains=_fraction(file, id, facts, "height_chains"),
            height=_fraction(file, id, facts, "height"),
            turning_chain=turning_chain,
            turning_chain_counts=counts,
            source=_text(file, id, facts, "source"),
            evidence=evidence,
            parts=parts,
            shares=_count(file, id, facts, "shares") if "shares" in facts else 0,
            **_symbol(file, id, facts),
        )


def _placed(operation: Operation, where: str, entered: bool) -> Operation:
    """A movement of a part, in the place where the group has it."""
    if operation.act != "insert" or operation.where:
        return operation
    return Operation("insert", where=where or ("same" if entered else ""))


class _File:
    """One file: its facts, and the lines they stand on when one of them is wrong."""

    def __init__(self, name: str, text: str) -> None:
        self.name = name
        self.text = text
        self._facts: dict[str, Any] | None = None

    def ids(self) -> list[str]:
        """The ids of the stitches that stand in the file: its tables, else its name."""
        return [*dict.fromkeys(_TABLE.findall(self.text))] or [self.name.removesuffix(".toml")]

    def facts_of(self, id: str) -> dict[str, Any]:
        """The facts of a stitch: what stands above the tables, and what its own table says instead."""
        if self._facts is None:
            self._facts = self._load()
        shared = {key: fact for key, fact in self._facts.items() if not isinstance(fact, dict)}
        own = self._facts.get(id, {})
        return shared | (own if isinstance(own, dict) else {})

    def _load(self) -> dict[str, Any]:
        try:
            return tomllib.loads(self.text)
        except tomllib.TOMLDecodeError as error:
            found = re.search(r"\(at line (\d+)", str(error))
            line = int(found[1]) if found else max(1, self.text.count("\n"))
            reason = str(error).partition(" (at ")[0]
            raise StitchDataError(f"this is not TOML: {reason}", self.name, line) from error

    def error(self, reason: str, id: str, key: str | None = None) -> StitchDataError:
        """The error at the line of a fact: in the stitch's own table, else above the tables, else at the table."""
        table = ""
        found = {"": 1}
        for number, line in enumerate(self.text.splitlines(), 1):
            if header := re.match(r"\s*\[\s*\"?(\w+)", line):
                table = header[1]
                found.setdefault(table, number)
            elif key is not None and re.match(rf"\s*\"?{re.escape(key)}\"?\s*=", line):
                found.setdefault(f"{table} {key}", number)
        place = next(place for place in (f"{id} {key}", f" {key}", id, "") if place in found)
        return StitchDataError(reason, self.name, found[place])


def _turning(file: _File, id: str, facts: dict[str, Any]) -> tuple[int | None, bool | None]:
    """The usual turning chain and whether it counts; neither where none is usual."""
    if not any(key in facts for key in _TURNING):
        return None, None
    turning_chain = _count(file, id, facts, "turning_chain")
    counts = _need(file, id, facts, "turning_chain_counts")
    if counts == _UNSAID:
        return turning_chain, None
    if not isinstance(counts, bool):
        raise file.error(f'"turning_chain_counts" should be true, false or "{_UNSAID}"', id, "turning_chain_counts")
    return turning_chain, counts


def _symbol(file: _File, id: str, facts: dict[str, Any]) -> dict[str, Any]:
    """The strokes of a symbol, with the source and the evidence of its shape; nothing where the file gives none."""
    said = [key for key in ("symbol", "symbol_source", "symbol_evidence") if key in facts]
    if not said:
        return {}
    strokes = _need(file, id, facts, "symbol")
    strokes = [strokes] if isinstance(strokes, str) else strokes
    if not isinstance(strokes, list) or not strokes or not all(isinstance(one, str) and one.strip() for one in strokes):
        raise file.error('"symbol" should be a list of strokes in quotes', id, "symbol")
    evidence = _text(file, id, facts, "symbol_evidence")
    if evidence not in EVIDENCE:
        reason = f'"{evidence}" is not a kind of evidence; there are {", ".join(EVIDENCE)}'
        raise file.error(reason, id, "symbol_evidence")
    return {
        "symbol": tuple(" ".join(one.split()) for one in strokes),
        "symbol_source": _text(file, id, facts, "symbol_source"),
        "symbol_evidence": evidence,
    }


def _recipe(file: _File, id: str, text: str) -> tuple[Operation, ...]:
    """A recipe that can be read and leaves one loop on the hook."""
    try:
        recipe = read_recipe(text)
    except RecipeError as error:
        raise file.error(f"the recipe cannot be read: {error}", id, "recipe") from error
    if closes(recipe):
        return recipe
    raise file.error(_why_open(recipe), id, "recipe")


def _why_open(recipe: Sequence[Operation]) -> str:
    """Why a recipe does not come out at one loop, and the number that would mend it."""
    counts = loops(recipe)
    needed = needed_to_close(recipe)
    way_on = f"; pull through {needed} would leave one" if needed is not None else ""
    short = lacking(recipe)
    acts = [operation.act for operation in recipe]
    if short is None and acts.count("drop loop") > acts.count("pick up dropped loop"):
        return "the loop that is let go is never picked up"
    if short is None:
        return f"the recipe ends with {counts[-1]} loops on the hook{way_on}"
    operation = recipe[short]
    if operation.act not in ("pull through", "slip through"):
        return f'"{operation.act}" has no loop to work with'
    there = counts[short - 1] if short else 1
    return f"the recipe says {operation.act} {operation.loops}, and there are only {there} loops on the hook{way_on}"


def _need(file: _File, id: str, facts: dict[str, Any], key: str) -> Any:
    if key not in facts:
        raise file.error(f'"{id}" has no "{key}"', id)
    return facts[key]


def _text(file: _File, id: str, facts: dict[str, Any], key: str) -> str:
    fact = _need(file, id, facts, key)
    if not isinstance(fact, str) or not fact.strip():
        raise file.error(f'"{key}" should be words in quotes', id, key)
    return fact


def _count(file: _File, id: str, facts: dict[str, Any], key: str) -> int:
    fact = _need(file, id, facts, key)
    if not isinstance(fact, int) or isinstance(fact, bool) or fact < 0:
        raise file.error(f'"{key}" should be a whole number from 0', id, key)
    return fact


def _fraction(file: _File, id: str, facts: dict[str, Any], key: str) -> Fraction:
    fact = _need(file, id, facts, key)
    if isinstance(fact, bool) or not isinstance(fact, int | str) or not _FRACTION.fullmatch(str(fact)):
        raise file.error(f'"{key}" should be a whole number or a fraction in quotes, as "3/2"', id, key)
    return Fraction(fact)
