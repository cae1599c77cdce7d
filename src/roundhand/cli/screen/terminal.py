"""The one place that prints. Colours and tables come from rich, which is loaded only where a terminal shows them."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Sequence

import click

from roundhand.cli.screen.letters import plain
from roundhand.cli.screen.line import Line, bare

# What is written into a file or a pipe does not depend on anyone's window.
_PAGE = 100
_NARROWEST = 40


def is_terminal() -> bool:
    """Whether somebody looks at the answers as they come."""
    return sys.stdout is not None and sys.stdout.isatty()


def page_width() -> int:
    """The cells a line may fill: of the terminal, or of a page where there is none."""
    return max(_NARROWEST, shutil.get_terminal_size().columns) if is_terminal() else _PAGE


def say(lines: Sequence[Line]) -> None:
    """Prints lines, in colour on a terminal that has colours and a reader who has not asked for none."""
    if not lines:
        return
    if is_terminal():
        from roundhand.cli.screen.rich_page import print_lines

        print_lines(lines)
    else:
        _write("".join(bare(pieces) + "\n" for pieces in lines))


def say_text(text: str) -> None:
    """Prints a text that is the answer itself: as it stands, byte for byte, into a file or a pipe; on a terminal
    without what a terminal would obey."""
    if is_terminal():
        _write("".join(f"{plain(line)}\n" for line in text.splitlines()))
    else:
        _write(text.encode("utf-8"))


def say_json(answer: bytes) -> None:
    """Prints one line of JSON, in UTF-8 whatever the terminal speaks."""
    _write(answer + b"\n")


def say_wrong(sentence: str) -> None:
    """Prints a sentence about what stands in the way, apart from the answers."""
    click.echo(plain(sentence), err=True)


def _write(text: str | bytes) -> None:
    try:
        click.echo(text, nl=False)
    except BrokenPipeError:
        # Whoever read along has seen enough. The rest is worked out all the same, so that the exit status is right.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
