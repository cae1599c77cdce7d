"""What happens to a pattern on its way through other programs: each a function from a text to the text as pasted.

None of them changes anything that a reader would notice, so the answer stays what it was.
"""

from __future__ import annotations

import re
from collections.abc import Callable

_ROW = re.compile(r"(?m)^(?=(?:Rnd|Row|Round)s?\.? \d)")
_WORK = re.compile(r"(?:Rnd|Row|Round)s?\.? \d[^:\n]*:")


def _rows(text: str, change: Callable[[str], str]) -> str:
    """The text with its rows changed."""
    return "\n".join(change(line) if _WORK.match(line) else line for line in text.split("\n"))


def curly_quotes(text: str) -> str:
    """Straight quotes and inch marks made curly."""
    return re.sub(r'(?<=\d)"', "\u201d", text).replace("'", "\u2019").replace('"', "\u201c")


def dashes(mark: str) -> Callable[[str], str]:
    """Hyphens between numbers made to another dash."""
    return lambda text: re.sub(r"(?<=\d)-(?=\d)", mark, text)


def hard_spaces(text: str) -> str:
    """Every space behind a number one that does not break."""
    return re.sub(r"(?<=\d) ", "\u00a0", text)


def all_hard_spaces(text: str) -> str:
    """Every second space one that does not break, as web editors write them."""
    return re.sub(r" (\S+) ", " \\1\u00a0", text)


def thin_spaces(text: str) -> str:
    """Thin spaces behind numbers."""
    return re.sub(r"(?<=\d) (?=[a-z])", "\u2009", text)


def zero_width(text: str) -> str:
    """Zero-width spaces behind commas and at the beginning of lines."""
    return re.sub(r"(?m)^(?=\S)", "\u200b", text).replace(", ", ", \u200b")


def vulgar_fractions(text: str) -> str:
    """Fractions as one sign, close to their whole number."""
    for plain, sign in (("1/2", "\u00bd"), ("1/4", "\u00bc"), ("3/4", "\u00be")):
        text = re.sub(rf"(?<=\d) {plain}(?!\d)", sign, text)
        text = re.sub(rf"(?<![\d/]){plain}(?!\d)", sign, text)
    return text


def times_signs(text: str) -> str:
    """The letter x between numbers or in front of one made a times sign."""
    return re.sub(r"\bx (?=\d)", "\u00d7 ", text)


def bullets(mark: str) -> Callable[[str], str]:
    """Every row an item of a list."""
    return lambda text: _rows(text, lambda line: f"{mark} {line}")


def numbered_list(text: str) -> str:
    """Every row an item of a list that counts from one under each heading."""
    number = 0
    lines = []
    for line in text.split("\n"):
        if _WORK.match(line):
            number += 1
            line = f"{number}. {line}"
        elif not line.strip():
            number = 0
        lines.append(line)
    return "\n".join(lines)


def list_of_ones(text: str) -> str:
    """Every row an item of a list that begins anew each time."""
    return _rows(text, lambda line: f"1. {line}")


def tabs(text: str) -> str:
    """A tab behind every label, and one in front of every row."""
    return _rows(text, lambda line: "\t" + line.replace(": ", ":\t", 1))


def soft_hyphens(text: str) -> str:
    """Long words with a place to break in them."""
    return re.sub(r"\b([a-z]{4})([a-z]{3,})\b", "\\1\u00ad\\2", text)


def bold_labels(text: str) -> str:
    """Labels in the marks of bold type."""
    return _rows(text, lambda line: re.sub(r"^([^:]+:)", r"**\1**", line))


def doubled_stars(text: str) -> str:
    """Every star twice."""
    return _rows(text, lambda line: line.replace("*", "**"))


def escaped_stars(text: str) -> str:
    """Every star behind a backslash."""
    return _rows(text, lambda line: line.replace("*", "\\*"))


def other_stars(text: str) -> str:
    """Stars as other programs set them: operators, raised, heavy."""
    return _rows(text, lambda line: line.replace("*", "\u2217"))


def no_gaps(text: str) -> str:
    """Numbers and words run together: `sc3`, `7(8,9)`."""
    return _rows(text, lambda line: re.sub(r"(\d) \(", r"\1(", re.sub(r"(?<=\d), (?=\d)", ",", line)))


def wide_gaps(text: str) -> str:
    """Two spaces for one."""
    return _rows(text, lambda line: line.replace(" ", "  "))


def trailing_spaces(text: str) -> str:
    """White space at the end of each line."""
    return "\n".join(f"{line}  \t" for line in text.split("\n"))


def indented(text: str) -> str:
    """Every line moved in."""
    return "\n".join(f"    {line}" if line else line for line in text.split("\n"))


def blank_lines(text: str) -> str:
    """A blank line between all lines."""
    return text.replace("\n", "\n\n")


def windows_lines(text: str) -> str:
    """Lines that end as on Windows."""
    return text.replace("\n", "\r\n")


def old_lines(text: str) -> str:
    """Lines that end as on old computers."""
    return text.replace("\n", "\r")


def wrapped(width: int) -> Callable[[str], str]:
    """Rows broken over several lines of a narrow page."""

    def fold(line: str) -> str:
        words, lines = line.split(" "), [""]
        for word in words:
            if lines[-1] and len(lines[-1]) + 1 + len(word) > width:
                lines.append(word)
            else:
                lines[-1] = f"{lines[-1]} {word}".strip()
        return "\n".join(lines)

    return lambda text: _rows(text, fold)


def indented_wrap(text: str) -> str:
    """Rows broken over several lines, those behind the first moved in."""
    return _rows(text, lambda line: wrapped(60)(line).replace("\n", "\n    "))


def run_together(text: str) -> str:
    """Two rows on one line, where both end in a full stop or a bracket."""
    return re.sub(r"([.)])\n(?=(?:Rnd|Row|Round) \d+:)", r"\1 ", text)


def pages(text: str) -> str:
    """Numbers of pages and running heads between rows."""
    title = text.strip().split("\n")[0]
    lines = []
    page = 1
    for number, line in enumerate(text.split("\n")):
        lines.append(line)
        if number % 9 == 8 and _WORK.match(line):
            page += 1
            lines += ["", f"Page {page} of 9", title, ""]
    return "\n".join(lines)


def bare_page_numbers(text: str) -> str:
    """Bare numbers of pages and a line of rights between rows."""
    lines = []
    page = 1
    for number, line in enumerate(text.split("\n")):
        lines.append(line)
        if number % 7 == 6 and _WORK.match(line):
            page += 1
            lines += [str(page), "\u00a9 2026 All rights reserved"]
    return "\n".join(lines)


def markdown_headings(text: str) -> str:
    """Headings in capitals marked as on the web."""
    return re.sub(r"(?m)^([A-Z][A-Z ]+)$", r"## \1", text)


def bold_headings(text: str) -> str:
    """Headings in the marks of bold type."""
    return re.sub(r"(?m)^([A-Z][A-Z ]+)$", r"**\1**", text)


def lower_labels(text: str) -> str:
    """Labels in small letters."""
    return _rows(text, lambda line: line[0].lower() + line[1:])


def capital_labels(text: str) -> str:
    """Labels in capitals."""
    return _rows(text, lambda line: re.sub(r"^[A-Za-z]+", lambda found: found[0].upper(), line))


def all_capitals(text: str) -> str:
    """Rows in capitals."""
    return _rows(text, str.upper)


def whole_page_capitals(text: str) -> str:
    """The whole page in capitals."""
    return text.upper()


def label_without_colon(text: str) -> str:
    """A dot or a dash behind a label in place of the colon."""
    return _rows(text, lambda line: re.sub(r"^((?:Rnd|Row|Round)s? [\d -]+):", r"\1.", line))


def label_with_dash(text: str) -> str:
    """A dash behind a label in place of the colon."""
    return _rows(text, lambda line: re.sub(r"^((?:Rnd|Row|Round)s? \d+):", "\\1 \u2013", line))


def ligatures(text: str) -> str:
    """Letters joined, as copied from a printed page."""
    return text.replace("fi", "\ufb01").replace("fl", "\ufb02")


def square_counts(text: str) -> str:
    """Counts at the end of rows in square brackets."""
    return _rows(text, lambda line: re.sub(r"\((\d+)( sts)?\)(?=\s*$)", r"[\1\2]", line))


def underscored_stars(text: str) -> str:
    """Stars turned into underscores."""
    return _rows(text, lambda line: re.sub(r"\*(?=[^*]*\brep\b)|(?<=from )\*", "_", line))


def eaten_stars(text: str) -> str:
    """All stars lost, as in an editor that takes them for slanted type."""
    return _rows(text, lambda line: line.replace("*", ""))


PASTES: tuple[tuple[str, Callable[[str], str]], ...] = (
    ("curly quotes", curly_quotes),
    *((f"dash {ord(mark):04x}", dashes(mark)) for mark in "\u2010\u2011\u2012\u2013\u2014\u2212"),
    ("dash with spaces", dashes(" \u2013 ")),
    ("hard spaces behind numbers", hard_spaces),
    ("hard spaces", all_hard_spaces),
    ("thin spaces", thin_spaces),
    ("zero width", zero_width),
    ("vulgar fractions", vulgar_fractions),
    ("times signs", times_signs),
    *(
        (f"bullet {ord(mark):04x}", bullets(mark))
        for mark in "\u2022\u00b7\u25cf\u25aa\u2013-*+>\u25e6\u2023\u2043\u25a0"
    ),
    ("numbered list", numbered_list),
    ("list of ones", list_of_ones),
    ("tabs", tabs),
    ("soft hyphens", soft_hyphens),
    ("bold labels", bold_labels),
    ("doubled stars", doubled_stars),
    ("escaped stars", escaped_stars),
    ("other stars", other_stars),
    ("no gaps", no_gaps),
    ("wide gaps", wide_gaps),
    ("trailing spaces", trailing_spaces),
    ("indented", indented),
    ("blank lines", blank_lines),
    ("lines of Windows", windows_lines),
    ("lines of old computers", old_lines),
    *((f"wrapped at {width}", wrapped(width)) for width in (30, 45, 60, 76)),
    ("wrapped and moved in", indented_wrap),
    ("run together", run_together),
    ("page numbers and heads", pages),
    ("bare page numbers", bare_page_numbers),
    ("headings of the web", markdown_headings),
    ("bold headings", bold_headings),
    ("small labels", lower_labels),
    ("capital labels", capital_labels),
    ("rows in capitals", all_capitals),
    ("all in capitals", whole_page_capitals),
    ("dot behind the label", label_without_colon),
    ("dash behind the label", label_with_dash),
    ("ligatures", ligatures),
    ("square counts", square_counts),
    ("underscored stars", underscored_stars),
)


def nothing_that_a_reader_sees(text: str) -> str:
    """Several at once, as a page copied from the web comes."""
    for change in (vulgar_fractions, dashes("\u2013"), curly_quotes, all_hard_spaces, soft_hyphens, zero_width):
        text = change(text)
    return text
