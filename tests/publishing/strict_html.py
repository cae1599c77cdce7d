"""A strict reader of our pages: every tag closed in its place, every name once, nothing that could run or be fetched.

It is written for the HTML that we make, not for all there is: https://html.spec.whatwg.org/ on content models and on
attributes, as far as our pages use them.
"""

from __future__ import annotations

from html.parser import HTMLParser

VOID = {"meta", "img", "input", "br", "link", "base"}
PHRASING = {"a", "abbr", "b", "span", "input", "img"}
# What may stand directly in an element, where that is not simply anything that flows.
INSIDE: dict[str, set[str]] = {
    "html": {"head", "body"},
    "head": {"meta", "title", "style"},
    "ul": {"li"},
    "ol": {"li"},
    "dl": {"div"},
    "table": {"caption", "thead", "tbody"},
    "thead": {"tr"},
    "tbody": {"tr"},
    "tr": {"th", "td"},
    "title": set(),
    "style": set(),
    "p": PHRASING,
    "h1": PHRASING,
    "h2": PHRASING,
    "span": PHRASING,
    "abbr": PHRASING,
    "a": PHRASING,
    "b": PHRASING,
    "dt": PHRASING,
    "label": PHRASING,
    "legend": PHRASING,
    "summary": PHRASING,
    "caption": PHRASING,
    "figcaption": PHRASING,
}
ATTRIBUTES: dict[str, set[str]] = {
    "html": {"lang"},
    "meta": {"charset", "http-equiv", "content", "name"},
    "a": {"class", "href"},
    "abbr": {"title"},
    "input": {"type", "name", "id", "checked"},
    "img": {"src", "alt"},
    "th": {"scope", "class"},
    "nav": {"aria-label"},
    "section": {"id", "aria-labelledby", "class"},
    "div": {"class", "role", "aria-label", "tabindex"},
}
COMMON = {"class", "id", "aria-hidden"}
FLOWING = {"body", "header", "main", "fieldset", "li", "dd", "td", "figure", "details"}
KNOWN = set(INSIDE) | set(ATTRIBUTES) | VOID | FLOWING


class Page(HTMLParser):
    """A page as read: its faults, its elements in order, and its text."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.faults: list[str] = []
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.texts: list[str] = []
        self.open: list[str] = []
        self._by_element: list[tuple[str, list[str]]] = []
        self.feed(html)
        self.close()
        if self.open:
            self.faults.append(f"never closed: {self.open}")
        ids = [attributes["id"] for _, attributes in self.elements if "id" in attributes]
        self.faults += [f"the id {name} comes twice" for name in set(ids) if ids.count(name) > 1]
        for tag, attributes in self.elements:
            place = attributes.get("href")
            if place is not None and (not place.startswith("#") or place[1:] not in ids):
                self.faults.append(f"{tag} leads to {place!r}")
            named = attributes.get("aria-labelledby")
            if named is not None and named not in ids:
                self.faults.append(f"{tag} is named by {named!r}, which is not there")

    def handle_decl(self, decl: str) -> None:
        """The document type, first of all."""
        if decl != "DOCTYPE html" or self.elements:
            self.faults.append(f"a declaration: {decl}")

    def handle_comment(self, data: str) -> None:
        """Our pages have no remarks."""
        self.faults.append(f"a remark: {data[:40]!r}")

    def unknown_decl(self, data: str) -> None:
        """Nor any other declaration."""
        self.faults.append(f"a declaration: {data[:40]!r}")

    def handle_pi(self, data: str) -> None:
        """Nor instructions to a processor."""
        self.faults.append(f"an instruction: {data[:40]!r}")

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Opens an element where it may stand."""
        attributes = dict(attrs)
        if len(attributes) != len(attrs):
            self.faults.append(f"an attribute comes twice in {tag}")
        if tag not in KNOWN:
            self.faults.append(f"there should be no {tag}")
        parent = self.open[-1] if self.open else ""
        if parent in INSIDE and tag not in INSIDE[parent]:
            self.faults.append(f"{tag} in {parent}")
        extra = set(attributes) - ATTRIBUTES.get(tag, set()) - COMMON
        if extra:
            self.faults.append(f"{tag} has {sorted(extra)}")
        if "src" in attributes and not str(attributes["src"]).startswith("data:image/svg+xml;base64,"):
            self.faults.append(f"{tag} fetches {attributes['src']!r}")
        if tag == "img" and not attributes.get("alt"):
            self.faults.append("a picture without words")
        if tag == "th" and attributes.get("scope") not in ("row", "col"):
            self.faults.append("a header without scope")
        self.elements.append((tag, attributes))
        if tag not in VOID:
            self.open.append(tag)
            self._by_element.append((tag, []))

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Our pages close nothing with a slash."""
        self.faults.append(f"<{tag}/>")

    def handle_endtag(self, tag: str) -> None:
        """Closes the element that was opened last, and no other."""
        if not self.open or self.open[-1] != tag:
            self.faults.append(f"</{tag}> closes {self.open[-1:]}")
            return
        self.open.pop()
        name, texts = self._by_element.pop()
        if name == "title":
            self.title = "".join(texts)

    def handle_data(self, data: str) -> None:
        """Text, kept with the element it stands in."""
        if not self.open or self.open[-1] != "style":
            self.texts.append(data)
        if self._by_element:
            self._by_element[-1][1].append(data)

    @property
    def text(self) -> str:
        """All that the page says, white space single."""
        return " ".join("".join(self.texts).split())

    def all(self, tag: str) -> list[dict[str, str | None]]:
        """The attributes of every element of a kind."""
        return [attributes for name, attributes in self.elements if name == tag]
