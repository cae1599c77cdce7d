"""A tree that was read from one place of a text, as the same words make it in another: all its places moved alike."""

from __future__ import annotations

import re
from collections.abc import Callable
from operator import attrgetter
from typing import Any, TypeVar

import msgspec

from roundhand.findings import Span

T = TypeVar("T")
_Mover = Callable[[Any, int], Any]

# Types of fields that hold no place of the text.
_STILL = frozenset(("tuple", "Mapping", "Literal", "Fact", "Fraction", "Length", "None", "bool", "bytes", "int", "str"))
_WORD = re.compile(r"[A-Za-z]\w*")
_QUOTED = re.compile(r"\"[^\"]*\"")


def moved(value: T, by: int) -> T:
    """The same value with every span moved by so many code points.

    A span that ends at 0 stands for no place, and stays.

    >>> from roundhand.notation.tree import Note, Turn
    >>> moved((Note(Span(3, 9)), Turn(Span(10, 14), False)), 100)
    (Note(span=Span(start=103, end=109)), Turn(span=Span(start=110, end=114), made=False))
    """
    kind = type(value)
    result: T = (_MOVERS.get(kind) or _learn(kind))(value, by)
    return result


def _still(value: Any, by: int) -> Any:
    return value


def _span(value: Span, by: int) -> Span:
    end = value.end
    return Span(value.start + by, end + by) if end else value


def _tuple(value: tuple[Any, ...], by: int) -> tuple[Any, ...]:
    if not value:
        return value
    movers = _MOVERS
    return tuple([(movers.get(type(one)) or _learn(type(one)))(one, by) for one in value])


def _learn(kind: type[Any]) -> _Mover:
    """How values of a type are moved: those that hold no places stay as they are."""
    mover = _of_struct(kind) if issubclass(kind, msgspec.Struct) else _still
    _MOVERS[kind] = mover
    return mover


def _of_struct(kind: type[msgspec.Struct]) -> _Mover:
    names = kind.__struct_fields__
    places = tuple(at for at, name in enumerate(names) if _holds_places(kind, name))
    if not places:
        return _still
    get = attrgetter(*names)
    movers = _MOVERS
    if len(names) == 1:
        return lambda value, by: kind(moved(get(value), by))

    def move(value: Any, by: int) -> Any:
        fields = list(get(value))
        for at in places:
            one = fields[at]
            if one is not None:
                fields[at] = (movers.get(type(one)) or _learn(type(one)))(one, by)
        return kind(*fields)

    return move


def _holds_places(kind: type[msgspec.Struct], name: str) -> bool:
    """Whether a field may hold a span, by the words of its type."""
    return not set(_WORD.findall(_QUOTED.sub("", str(kind.__annotations__[name])))) <= _STILL


_MOVERS: dict[type[Any], _Mover] = {Span: _span, tuple: _tuple, type(None): _still}
