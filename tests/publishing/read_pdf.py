"""What a PDF says: its text page by page, and its structure with the text of each element.

Written after ISO 32000-1: content streams (8, 9.4), ToUnicode maps (9.10.3), marked content and structure (14.7).
Enough for the PDFs that we make, which pikepdf opens.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from io import BytesIO
from typing import Any, NamedTuple

import pikepdf

_CHARS = re.compile(rb"<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>")
_RANGES = re.compile(rb"<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>")


class Element(NamedTuple):
    """A structure element: its role, how deep it stands, what it is called, its attributes and its own text."""

    role: str
    depth: int
    alternative: str
    attributes: dict[str, Any]
    text: str


class Pdf:
    """A PDF opened for reading."""

    def __init__(self, data: bytes) -> None:
        self.document = pikepdf.open(BytesIO(data))
        self._maps: dict[tuple[int, int], dict[bytes, str]] = {}
        self.marked: dict[tuple[tuple[int, int], int], str] = {}
        self.pages = [self._page(page) for page in self.document.pages]

    @property
    def text(self) -> str:
        """All that the pages show."""
        return "\n".join(self.pages)

    @property
    def elements(self) -> list[Element]:
        """The structure in reading order."""
        root = self.document.Root.StructTreeRoot
        return [element for kid in _kids(root) for element in self._elements(kid, 0, None)]

    def _elements(self, node: Any, depth: int, page: Any) -> Iterator[Element]:
        page = node.get("/Pg", page)
        own: list[str] = []
        below: list[Any] = []
        for kid in _kids(node):
            if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
                below.append(kid)
            elif isinstance(kid, pikepdf.Dictionary) and "/MCID" in kid:
                own.append(self.marked.get((kid.get("/Pg", page).objgen, int(kid.MCID)), ""))
            elif not isinstance(kid, pikepdf.Dictionary):
                own.append(self.marked.get((page.objgen, int(kid)), ""))
        attributes: dict[str, Any] = {}
        for one in _listed(node.get("/A")):
            attributes |= {f"{one.O}{key}": value for key, value in one.items() if key != "/O"}
        yield Element(str(node.S)[1:], depth, str(node.get("/Alt", "")), attributes, "".join(own))
        for kid in below:
            yield from self._elements(kid, depth + 1, page)

    def _page(self, page: Any) -> str:
        said: list[str] = []
        self._stream(page.obj, page.obj.get("/Resources"), page.obj.objgen, said)
        return "".join(said)

    def _stream(self, holder: Any, resources: Any, page: tuple[int, int], said: list[str]) -> None:
        letters: dict[bytes, str] = {}
        marks: list[int | None] = []

        def add(text: str) -> None:
            said.append(text)
            number = next((mark for mark in reversed(marks) if mark is not None), None)
            if number is not None:
                key = (page, number)
                self.marked[key] = self.marked.get(key, "") + text

        for instruction in pikepdf.parse_content_stream(holder):
            operands: Any = instruction.operands
            name = str(instruction.operator)
            if name == "Tf":
                letters = self._letters(resources.Font[operands[0]])
            elif name in ("Tj", "'"):
                add(_decoded(bytes(operands[-1]), letters))
            elif name == "TJ":
                add("".join(_decoded(bytes(one), letters) for one in operands[0] if isinstance(one, pikepdf.String)))
            elif name in ("BDC", "BMC"):
                about = operands[1] if len(operands) > 1 else None
                marks.append(int(about.MCID) if isinstance(about, pikepdf.Dictionary) and "/MCID" in about else None)
            elif name == "EMC":
                marks.pop()
            elif name == "Do":
                drawn = resources.XObject[operands[0]]
                if drawn.get("/Subtype") == "/Form":
                    inner: list[str] = []
                    self._stream(drawn, drawn.get("/Resources", resources), page, inner)
                    said.extend(inner)

    def _letters(self, font: Any) -> dict[bytes, str]:
        key = font.objgen
        if key not in self._maps:
            table: dict[bytes, str] = {}
            data = font.ToUnicode.read_bytes()
            for block in re.findall(rb"beginbfchar(.*?)endbfchar", data, re.DOTALL):
                for code, text in _CHARS.findall(block):
                    table[bytes.fromhex(code.decode())] = bytes.fromhex(text.decode()).decode("utf-16-be")
            for block in re.findall(rb"beginbfrange(.*?)endbfrange", data, re.DOTALL):
                for first, last, text in _RANGES.findall(block):
                    start = int(text, 16)
                    for step in range(int(last, 16) - int(first, 16) + 1):
                        table[(int(first, 16) + step).to_bytes(len(first) // 2, "big")] = chr(start + step)
            self._maps[key] = table
        return self._maps[key]


def _decoded(code: bytes, letters: dict[bytes, str]) -> str:
    width = len(next(iter(letters), b"xx"))
    return "".join(letters.get(code[at : at + width], "?") for at in range(0, len(code), width))


def _kids(node: Any) -> list[Any]:
    return _listed(node.get("/K"))


def _listed(value: Any) -> list[Any]:
    return [] if value is None else list(value) if isinstance(value, pikepdf.Array) else [value]
