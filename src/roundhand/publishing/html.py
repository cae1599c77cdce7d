"""The page: one file that needs nothing else, no script, no network, readable by eye, by ear and on paper."""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Iterator, Sequence
from functools import cache
from importlib import resources
from itertools import groupby
from typing import TYPE_CHECKING, Any

from roundhand.publishing.figures import typeset
from roundhand.publishing.leaflet import Chart, Leaflet, Section
from roundhand.publishing.tables import measured_table, stated_table, yarn_table
from roundhand.publishing.words import Run, Words
from roundhand.terms import side

if TYPE_CHECKING:
    import jinja2

# So many letters stand on a line of a screen 320 pixels wide.
_TIGHT = 30
_RANGE = re.compile(r"\d+-\d+")
_LANGUAGES = {"US": "en-US", "UK": "en-GB"}


def page(leaflet: Leaflet) -> bytes:
    """The page of a leaflet as UTF-8 HTML, the same bytes for the same leaflet.

    Whatever the leaflet's texts hold stands in the page as text. Charts are in the page as pictures, which cannot run
    anything. A policy in the page forbids scripts and anything from elsewhere.

    >>> from roundhand import notation, tally
    >>> from roundhand.findings import Source
    >>> from roundhand.publishing import leaflet
    >>> text = "Cap <b>\\nRnd 1: 6 sc in a magic ring. (6)"
    >>> pattern, _ = notation.read(text)
    >>> b"<h1>Cap &lt;b&gt;</h1>" in page(leaflet(Source(text), pattern, tally.count(pattern)[0]))
    True
    """
    style = _style(len(leaflet.sizes))
    digest = base64.b64encode(hashlib.sha256(style.encode("utf-8")).digest()).decode("ascii")
    us = side(leaflet.language) == "US"
    made = _template().render(
        leaflet=leaflet,
        language=_LANGUAGES[side(leaflet.language)],
        style=_markup(style),
        policy=f"default-src 'none'; img-src data:; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'",
        color="color" if us else "colour",
        tension="Gauge" if us else "Tension",
        stated=stated_table(leaflet),
        measured=measured_table(leaflet),
        yarn=yarn_table(leaflet),
        places=list(_places(leaflet)),
    )
    return made.encode("utf-8", "replace")


def _places(leaflet: Leaflet) -> Iterator[tuple[str, Section]]:
    """Every section with a name for its place in the page."""
    for at, section in enumerate((*leaflet.opening, *leaflet.sections, *leaflet.closing), 1):
        yield f"part-{at}", section


def _spans(words: Words) -> list[tuple[bool, list[Run]]]:
    """The runs in groups, each a stated count or none."""
    return [(counted, list(runs)) for counted, runs in groupby(words, key=lambda run: run.count)]


def _classes(sizes: Sequence[int], of: int, prefix: str = "in") -> str:
    """The classes of something that is for some sizes only; none for what is for all."""
    return " ".join(f"{prefix}{size}" for size in sizes) if len(sizes) < of else ""


def _tight(runs: Sequence[Run]) -> str:
    """The class that keeps a count on one line, for one that fits a line of the narrowest screen."""
    return " tight" if sum(len(run.text) for run in runs) <= _TIGHT else ""


def _ranges(text: str) -> Any:
    """A text in which `6-8` is kept on one line; browsers break behind the hyphen."""
    from markupsafe import Markup, escape

    told = Markup()
    at = 0
    for found in _RANGE.finditer(text):
        told += escape(text[at : found.start()]) + Markup('<span class="tight">') + found[0] + Markup("</span>")
        at = found.end()
    return told + escape(text[at:])


def _picture(chart: Chart) -> str:
    return "data:image/svg+xml;base64," + base64.b64encode(chart.svg).decode("ascii")


@cache
def _read(name: str) -> str:
    return (resources.files("roundhand.publishing") / "data" / name).read_text(encoding="utf-8")


def _style(sizes: int) -> str:
    """The style of the page: what is fixed, and the rules that let a reader mark her size."""
    rules = [_read("page.css"), f":root {{ --sizes: {sizes}; }}"]
    for size in range(sizes) if sizes > 1 else ():
        chosen = f"body:has(#size-{size}:checked)"
        marked = "background: var(--mark); box-shadow: 0 0.12em var(--mark), 0 -0.12em var(--mark);"
        rules.append(f"{chosen} .v{size} {{ {marked} }}")
        rules.append(f"{chosen} .some:not(.in{size}) {{ display: none; }}")
    return "\n".join(rules)


def _markup(text: str) -> Any:
    import markupsafe

    return markupsafe.Markup(text)


@cache
def _template() -> jinja2.Template:
    import jinja2

    environment = jinja2.Environment(
        autoescape=True, undefined=jinja2.StrictUndefined, trim_blocks=True, lstrip_blocks=True, auto_reload=False
    )
    environment.filters |= {
        "spans": _spans,
        "classes": _classes,
        "tight": _tight,
        "ranges": _ranges,
        "typeset": typeset,
        "picture": _picture,
    }
    return environment.from_string(_read("page.html.jinja"))
