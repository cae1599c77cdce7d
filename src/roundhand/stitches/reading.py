"""The packaged stitches: TOML files read, tried against the laws of a stitch, and put together.

A file holds one stitch and is named after it, or holds a table for each of several stitches that differ only in a
number; what stands above the first table then holds for all of them. Heights are whole numbers or fractions in
quotes ("3/2"). A stitch without a usual turning chain leaves out both of its lines.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from roundhand.stitches.recipe import Operation, RecipeError, closes, lacking, loops, needed_to_close, read_recipe
from roundhand.stitches.stitch import EVIDENCE, PLACES, Stitch

_UNSAID = "the pattern must say"
_TURNING = ("turning_chain", "turning_chain_counts")
_KEYS = ("family", "recipe", "uses", "makes", "place", "height_chains", "height", *_TURNING, "source", "evidence")
_NAME = re.compile(r"[a-z]+(_([a-z]+|\d+))*")
_FRACTION = re.compile(r"\d{1,3}(/[1-9]\d{0,2})?")


class StitchDataError(ValueError):
    """A stitch file that cannot be used. `file` is its name, `line` the line from 1."""

    def __init__(self, reason: str, file: str, line: int) -> None:
        super().__init__(f"{file}, line {line}: {reason}")
        self.file = file
        self.line = line


@cache
def dictionary() -> Mapping[str, Stitch]:
    """Every packaged stitch by its id, in the order of the ids; read once and not to be changed.

    Raises StitchDataError if a packaged file is damaged.

    >>> sorted(id for id, stitch in dictionary().items() if stitch.family == "half_double" and stitch.uses == 3)
    ['half_double_3_together']
    """
    folder = files("roundhand.stitches") / "data"
    return read_stitches(
        {file.name: file.read_text(encoding="utf-8") for file in folder.iterdir() if file.name.endswith(".toml")}
    )


def read_stitches(texts: Mapping[str, str]) -> Mapping[str, Stitch]:
    """The stitches that files hold, given by name and text, by id in the order of the ids.

    Raises StitchDataError, naming file and line, for a file that is not TOML, a fact that is missing, unknown or of
    the wrong kind, a recipe that cannot be read or does not come out at one loop, an id that two files hold, and a
    family that none does.

    >>> read_stitches({"single.toml": 'recipe = "insert, draw up, pull through 3"'})
    Traceback (most recent call last):
    roundhand.stitches.reading.StitchDataError: single.toml, line 1: the recipe says pull through 3, and there are \
only 2 loops on the hook; pull through 2 would leave one
    """
    stitches: dict[str, Stitch] = {}
    homes: dict[str, _File] = {}
    for name in sorted(texts):
        file = _File(name, texts[name])
        for id, facts in file.rows():
            if id in homes:
                raise file.error(f'"{id}" stands in {homes[id].name} too', id)
            stitches[id] = _stitch(file, id, facts)
            homes[id] = file
    for id, stitch in stitches.items():
        parent = stitches.get(stitch.family)
        if parent is None:
            raise homes[id].error(f'no file holds the family "{stitch.family}"', id, "family")
        if parent.family != parent.id:
            raise homes[id].error(f'the family "{parent.id}" is itself a form of "{parent.family}"', id, "family")
    return MappingProxyType({id: stitches[id] for id in sorted(stitches)})


class _File:
    """One file: its facts, and the lines they stand on when one of them is wrong."""

    def __init__(self, name: str, text: str) -> None:
        self.name = name
        self.text = text
        try:
            self.facts = tomllib.loads(text)
        except tomllib.TOMLDecodeError as error:
            found = re.search(r"\(at line (\d+)", str(error))
            line = int(found[1]) if found else max(1, text.count("\n"))
            reason = str(error).partition(" (at ")[0]
            raise StitchDataError(f"this is not TOML: {reason}", name, line) from error

    def rows(self) -> list[tuple[str, dict[str, Any]]]:
        """Each stitch's id and facts."""
        rows = {id: facts for id, facts in self.facts.items() if isinstance(facts, dict)}
        shared = {key: fact for key, fact in self.facts.items() if key not in rows}
        if not rows:
            return [(self.name.removesuffix(".toml"), shared)]
        return [(id, shared | facts) for id, facts in rows.items()]

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


def _stitch(file: _File, id: str, facts: dict[str, Any]) -> Stitch:
    """A stitch from its facts, each of the right kind."""
    if not _NAME.fullmatch(id):
        raise file.error(f'"{id}" is not an id: words and numbers in small letters, joined by _', id)
    for key in facts:
        if key not in _KEYS:
            raise file.error(f'"{key}" is not a fact of a stitch; there are {", ".join(_KEYS)}', id, key)
    recipe = _recipe(file, id, _text(file, id, facts, "recipe"))
    place, evidence = _text(file, id, facts, "place"), _text(file, id, facts, "evidence")
    if place not in PLACES:
        raise file.error(f'"{place}" is not a place; there are {", ".join(PLACES)}', id, "place")
    if evidence not in EVIDENCE:
        raise file.error(f'"{evidence}" is not a kind of evidence; there are {", ".join(EVIDENCE)}', id, "evidence")
    turning_chain, counts = None, None
    if any(key in facts for key in _TURNING):
        turning_chain = _count(file, id, facts, "turning_chain")
        counts = _need(file, id, facts, "turning_chain_counts")
        if counts == _UNSAID:
            counts = None
        elif not isinstance(counts, bool):
            reason = f'"turning_chain_counts" should be true, false or "{_UNSAID}"'
            raise file.error(reason, id, "turning_chain_counts")
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
    )


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
