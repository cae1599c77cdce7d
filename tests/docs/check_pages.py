"""The handbook: a page of every remark, made from the docstrings of the checks, so that it cannot go stale.

python -m tests.docs.check_pages          prints it
python -m tests.docs.check_pages --write  puts it into the folder of documents
"""

from __future__ import annotations

import sys
import textwrap
from collections.abc import Iterator
from pathlib import Path

from roundhand.checks import GROUPS, Page, pages
from roundhand.findings import Finding, severity_word
from tests.checks.test_handbook import OF_WHOLE_FILES, example, remarks

PAGE = Path(__file__).resolve().parents[2] / "docs" / "checks.md"
WIDTH = 116

_HEAD = """# What the edit looks for

Every query that roundhand can make, by the part of the page that it looks at: {number} of them. Each says what is
wrong, why it matters to a maker, and how the page reads with the slip and without it. What stands under an example is
what roundhand says of it.

- **Fix**: a maker would go wrong. **Look**: probably wrong, or unclear. **Consider**: a thought, and no fault.
- {asked} of them are matters of taste or of house style and are silent until they are asked for.
- `roundhand check --about {shown}` prints one page of this handbook. The names and the groups are the words that can
  be chosen by; the [guide](guide/first-pattern.md) begins with a whole pattern.
- A query is never the last word. What two designers would do differently is no fault, and what you have looked at and
  meant can be left as it is.

The handbook is made from the checks themselves by `python -m tests.docs.check_pages --write`, and a test fails where
it no longer says the same.
"""


def page() -> str:
    """The whole handbook."""
    known = pages()
    asked = sum(one.when_asked for one in known.values())
    lines = [_HEAD.format(number=len(known), asked=asked, shown="count-differs")]
    by_group = {group: [one for one in known.values() if one.group == group] for group in GROUPS}
    for group, about in GROUPS.items():
        if by_group[group]:
            links = ", ".join(f"[{one.name}](#{one.name})" for one in by_group[group])
            lines += [_wrapped(f"- **{group}** ({about}): {links}", 2)]
    lines.append("")
    for group, about in GROUPS.items():
        if by_group[group]:
            lines += [f"## {group.capitalize()}", "", f"{about[0].upper()}{about[1:]}.", ""]
        for one in by_group[group]:
            lines += [*_entry(one), ""]
    return "\n".join(lines).rstrip("\n") + "\n"


def _entry(one: Page) -> Iterator[str]:
    yield f"### {one.name}"
    yield ""
    finding = None if one.name in OF_WHOLE_FILES else _said(one)
    if finding is not None:
        yield f"*{severity_word(finding.severity)}{', when asked' if one.when_asked else ''}*"
        yield ""
    yield _wrapped(one.what)
    for paragraph in one.why.split("\n\n"):
        yield ""
        yield _wrapped(paragraph)
    for lead, text in (("With the slip:", one.bad), ("Without it:", one.good)):
        if text:
            yield from ("", lead, "", textwrap.indent(text.rstrip("\n"), "    "))
        if finding is not None and lead.startswith("With the"):
            word = severity_word(finding.severity)
            yield from ("", f"> **{word}**: {finding.headline}  ", f"> because: {finding.because}  ")
            yield f"> way on: {finding.help}"


def _said(one: Page) -> Finding:
    """What is said of the example of a page."""
    (finding,) = remarks(example(one.name, "Bad"), *((one.name,) if one.when_asked else ()))
    return finding


def _wrapped(words: str, indent: int = 0) -> str:
    return textwrap.fill(
        " ".join(words.split()),
        WIDTH,
        subsequent_indent=" " * indent,
        break_long_words=False,
        break_on_hyphens=False,
    )


if __name__ == "__main__":
    if sys.argv[1:] == ["--write"]:
        PAGE.write_text(page(), encoding="utf-8")
    else:
        print(page())
