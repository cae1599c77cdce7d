"""How pages are set: sources and data in, PDF out, with nothing read from the machine it runs on.

The engine is typst. Sources are a mapping of names to bytes, data are JSON strings that the engine never evaluates,
fonts are the engine's own, and the root is an empty folder that the caller lends, so that no name leads anywhere.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache
from typing import TYPE_CHECKING, Literal, cast
from xml.etree import ElementTree

from roundhand.press.signs import MARK

if TYPE_CHECKING:
    import typst

# Both at once: tagged for readers that speak (ISO 14289-1) and made to last (ISO 19005-2, level A).
STANDARDS = ("ua-1", "a-2a")
# The families of the engine itself, in the order in which they are asked for a sign.
FAMILIES = ("Libertinus Serif", "New Computer Modern", "DejaVu Sans Mono")
# A picture beyond this is no drawing of a pattern; setting one cannot be stopped once begun.
MOST_PICTURE_BYTES = 8_000_000
MOST_PICTURE_ELEMENTS = 60_000

# A clock would make every page another one, so every page is made at the same moment, 1 January 2000, noon.
_MOMENT = 946_728_000
_LACKING = re.compile(r'(?:the text|contains the codepoint) `"((?:[^"\\`]|\\u\{[0-9a-f]+\}|\\.)+)"`')
_ESCAPE = re.compile(r"\\u\{([0-9a-f]+)\}|\\(.)")
_TRIAL = b"""\
#let data = json("data.json")
#set document(title: "t")
#set text(font: data.families, lang: "en")
#for style in ("normal", "italic") { for weight in (400, 600, 700) {
  par(text(style: style, weight: weight, data.text))
} }
#par(smallcaps(data.text))
"""


class PressError(Exception):
    """A page that could not be set. The message is one plain sentence."""


class LackingError(PressError):
    """A page with signs that the fonts lack; `signs` are these, each as the engine names it."""

    def __init__(self, signs: frozenset[str]) -> None:
        super().__init__(f"The fonts lack {len(signs)} of the signs on this page.")
        self.signs = signs


def set_pdf(sources: Mapping[str, bytes], root: str, data: Mapping[str, object] | None = None) -> bytes:
    """A tagged PDF of the source `main.typ`, the same bytes for the same input.

    `sources` maps names to contents; `data`, if given, is added as `data.json`. `root` is the path of an empty folder.
    Raises ValueError without a root or a `main.typ`, `LackingError` where the fonts lack a sign, and `PressError` for
    anything else that keeps the page from being set, warnings among it.
    """
    return _set(sources, root, data, "pdf")[0]


def set_pictures(
    sources: Mapping[str, bytes], root: str, data: Mapping[str, object] | None = None
) -> tuple[bytes, ...]:
    """The pages of the source `main.typ` as SVG, to be seen and not to be handed out; raises as `set_pdf` does, but
    for signs that the fonts lack, which are left out."""
    return _set(sources, root, data, "svg")


def _set(
    sources: Mapping[str, bytes], root: str, data: Mapping[str, object] | None, kind: Literal["pdf", "svg"]
) -> tuple[bytes, ...]:
    if not root:
        raise ValueError("a page is set in an empty folder, and none was named")
    if "main.typ" not in sources:
        raise ValueError("a page is set from a source called main.typ, and there is none")
    import typst

    files = dict(sources)
    if data is not None:
        files["data.json"] = json.dumps(data, ensure_ascii=True).encode("ascii")
    # The engine's annotations know a single source only; a mapping of names to bytes is what it takes besides.
    compiled = cast("Callable[..., tuple[bytes | list[bytes], list[typst.TypstWarning]]]", typst.compile_with_warnings)
    try:
        made, warnings = compiled(
            files,
            format=kind,
            root=root,
            font_paths=_fonts(),
            ignore_system_fonts=True,
            pdf_standards=list(STANDARDS) if kind == "pdf" else [],
            timestamp=_MOMENT,
        )
    except typst.TypstError as problem:
        signs = _named_signs(problem.diagnostic)
        if signs:
            raise LackingError(signs) from None
        raise PressError(f"The page could not be set: {problem.message.rstrip('.')}.") from None
    if warnings:
        raise PressError(f"The page was set with a warning: {warnings[0].message.rstrip('.')}.")
    return tuple(made) if isinstance(made, list) else (made,)


def lacking(texts: Iterable[str], root: str) -> frozenset[str]:
    """The signs in some texts that the fonts of the press lack, in any of its styles.

    The engine itself is asked, so that no table can grow stale. What belongs together is asked together: a base and
    its accent, a picture joined of several signs. Raises as `set_pdf` does.
    """
    words = {word for text in texts for word in text.split() if not word.isascii()}
    found: set[str] = set()
    while words:
        asked = {"families": FAMILIES, "text": " ".join(sorted(words))}
        try:
            set_pdf({"main.typ": _TRIAL}, root, asked)
            break
        except LackingError as problem:
            found |= problem.signs
            replaced = set(map(marker(problem.signs), words))
            if replaced == words:  # The engine named something that is not in the words as they stand.
                found |= {sign for word in words for sign in word if not sign.isascii() and sign != MARK}
                break
            words = replaced - {MARK}
    return frozenset(found)


def marker(signs: frozenset[str]) -> Callable[[str], str]:
    """A function that puts a replacement mark for each of the signs in a text.

    >>> marker(frozenset("海藻🧶"))("kelp 海藻 🧶")
    'kelp �� �'
    """
    single = {ord(sign): MARK for sign in signs if len(sign) == 1}
    joined = sorted((sign for sign in signs if len(sign) > 1), key=lambda sign: (-len(sign), sign))

    def marked(text: str) -> str:
        if text.isascii() or not signs:
            return text
        for sign in joined:
            text = text.replace(sign, MARK)
        return text.translate(single)

    return marked


def picture_fits(svg: bytes) -> bool:
    """Whether a drawing is well-formed and small enough to be set.

    >>> picture_fits(b'<svg xmlns="http://www.w3.org/2000/svg"><g/></svg>'), picture_fits(b"<svg>")
    (True, False)
    """
    if len(svg) > MOST_PICTURE_BYTES or b"<!DOCTYPE" in svg or b"<!ENTITY" in svg:
        return False
    try:
        return sum(1 for _ in ElementTree.fromstring(svg).iter()) <= MOST_PICTURE_ELEMENTS
    except ElementTree.ParseError:
        return False


def picture_words(svg: bytes) -> tuple[str, ...]:
    """The texts that a drawing shows, to look for signs that the fonts lack; raises ElementTree.ParseError."""
    drawing = ElementTree.fromstring(svg)
    return tuple(text for element in drawing.iter() for text in (element.text, element.tail) if text)


def picture_with_marks(svg: bytes, signs: frozenset[str]) -> bytes:
    """A drawing with a replacement mark for each of the signs in its texts; raises ElementTree.ParseError."""
    if not signs:
        return svg
    marked = marker(signs)
    ElementTree.register_namespace("", "http://www.w3.org/2000/svg")
    drawing = ElementTree.fromstring(svg)
    for element in drawing.iter():
        element.text = marked(element.text) if element.text else element.text
        element.tail = marked(element.tail) if element.tail else element.tail
    return cast("bytes", ElementTree.tostring(drawing, encoding="utf-8"))


@lru_cache(maxsize=1)
def _fonts() -> typst.Fonts:
    """The engine's own fonts, gathered once; a machine's fonts would make the page another one there."""
    import typst

    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=True)


def _named_signs(diagnostic: str) -> frozenset[str]:
    return frozenset(_ESCAPE.sub(_unescaped, found[1]) for found in _LACKING.finditer(diagnostic))


def _unescaped(found: re.Match[str]) -> str:
    return chr(int(found[1], 16)) if found[1] else found[2]
