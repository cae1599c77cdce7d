"""A starter on the desktop: a small file that opens the desk on a folder, for people who never open a terminal.

Linux gets a desktop entry (freedesktop.org's specification of desktop entries), macOS a `.command` file and Windows a
`.bat` file; each opens a terminal window, in which the desk says how to close it.
"""

from __future__ import annotations

import os
import re
import shlex
import sys
from pathlib import Path, PurePath

from roundhand.workshop import UseError, spoken, write_file

# Stands in every starter, so that no file of somebody else's is ever replaced.
_OURS = "made by: roundhand desk --shortcut"
_TITLE = "Crochet desk"
# The signs that a desktop entry's command has to have a backslash before, inside quotation marks.
_QUOTED = re.compile(r'(["`$\\])')


def shortcut(folder: Path, system: str = sys.platform, home: Path | None = None) -> Path:
    """Puts a starter for a folder on the desktop, or among the programs where there is no desktop, and says where.

    Raises `UseError` where something else stands there already or nothing can be written.
    """
    if not folder.is_dir():
        raise UseError(f"The folder “{spoken(folder)}” is not there; check the name.")
    text, ending = starter(folder.resolve(), sys.executable, system)
    place = _place(home or Path.home(), system) / f"{_name(folder)}{ending}"
    if os.path.lexists(place) and _OURS not in _read(place):
        raise UseError(f"“{spoken(place)}” is there already and was not made by roundhand; move it away first.")
    place.parent.mkdir(parents=True, exist_ok=True)
    write_file(place, text.encode("utf-8"))
    if system != "win32":
        # A desktop starts only what is allowed to be run.
        place.chmod(0o755)
    return place


def starter(folder: PurePath, python: str, system: str) -> tuple[str, str]:
    """What a starter holds, and the ending of its name.

    >>> from pathlib import PurePosixPath, PureWindowsPath
    >>> starter(PurePosixPath("/home/ann/my caps"), "/usr/bin/python3", "darwin")[0].splitlines()[-1]
    "exec /usr/bin/python3 -P -m roundhand desk '/home/ann/my caps'"
    >>> starter(PureWindowsPath("C:/caps 100%"), "C:/py.exe", "win32")[0].splitlines()[-2]
    '"C:/py.exe" -P -m roundhand desk "C:\\\\caps 100%%"'
    """
    words = [python, "-P", "-m", "roundhand", "desk", str(folder)]
    if any(sign in word for word in words for sign in "\r\n\0"):
        raise UseError(f"The name “{spoken(str(folder))}” has a line end in it, which no starter can have.")
    if system == "win32":
        command = " ".join(f'"{word}"' if at in (0, 5) else word for at, word in enumerate(words))
        # Without the page of signs for UTF-8 a folder with an accent in its name is not found.
        lines = ["@echo off", f"rem {_OURS}", "chcp 65001 >nul", command.replace("%", "%%"), "if errorlevel 1 pause"]
        return "".join(f"{line}\r\n" for line in lines), ".bat"
    if system == "darwin":
        command = " ".join(shlex.quote(word) for word in words)
        return f"#!/bin/sh\n# {_OURS}\nexec {command}\n", ".command"
    lines = [
        "[Desktop Entry]",
        f"# {_OURS}",
        "Type=Application",
        "Version=1.5",
        f"Name={_TITLE}: {_entry(folder.name or str(folder))}",
        "Comment=Opens the desk on a folder of crochet patterns",
        f"Exec={' '.join(_entry_word(word) for word in words)}",
        "Terminal=true",
        "Categories=Office;",
    ]
    return "".join(f"{line}\n" for line in lines), ".desktop"


def _entry(text: str) -> str:
    """A text as a value of a desktop entry."""
    return text.replace("\\", "\\\\").replace("\t", "\\t")


def _entry_word(word: str) -> str:
    """A word of the command of a desktop entry: in quotation marks, then escaped as every value is."""
    return _entry('"{}"'.format(_QUOTED.sub(r"\\\1", word).replace("%", "%%")))


def _name(folder: Path) -> str:
    """The name of the file, of signs that every system allows."""
    words = re.sub(r"[^\w -]+", " ", folder.resolve().name).strip()
    return f"{_TITLE} {words}".strip()


def _place(home: Path, system: str) -> Path:
    """The desktop of whoever is at home here."""
    if system in ("win32", "darwin"):
        return home / "Desktop"
    named = _linux_desktop(home)
    # Without a desktop there is still the list of programs.
    return named if named.is_dir() else home / ".local" / "share" / "applications"


def _linux_desktop(home: Path) -> Path:
    """The desktop's folder, which has another name in every language; the file of names says which."""
    config = Path(os.environ.get("XDG_CONFIG_HOME") or home / ".config")
    found = re.search(r'^XDG_DESKTOP_DIR="(?:\$HOME/)?([^"\n]*)"', _read(config / "user-dirs.dirs"), re.MULTILINE)
    return home / found[1] if found is not None and found[1] else home / "Desktop"


def _read(path: Path) -> str:
    try:
        return path.read_bytes().decode("utf-8", "replace")
    except OSError:
        return ""
