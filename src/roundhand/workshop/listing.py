"""What lies on a shelf: the patterns of a folder with their titles, sizes and times, looked up again only where a file
has changed.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime
from pathlib import Path

import msgspec

from roundhand.findings import Source
from roundhand.notation.page import cut_page, find_sizes
from roundhand.notation.sizes import read_size_names
from roundhand.workshop.text import read_text
from roundhand.workshop.use import UseError


class Listed(msgspec.Struct, frozen=True):
    """A pattern of the folder: its name (the path from the folder, with slashes), its title, when its file was changed
    (ISO time, UTC), and how many sizes it names."""

    name: str
    title: str
    changed: str
    sizes: int


class Listing:
    """The patterns of one folder as they were last looked at."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._seen: dict[Path, tuple[tuple[int, int], Listed]] = {}

    def of(self, paths: Iterable[Path]) -> tuple[Listed, ...]:
        """Some files of the folder by their paths; what cannot be read is left out."""
        return tuple(one for path in sorted(paths) if (one := self._about(path)) is not None)

    def _about(self, path: Path) -> Listed | None:
        try:
            about = path.stat()
            stamp = (about.st_mtime_ns, about.st_size)
            known = self._seen.get(path)
            if known is not None and known[0] == stamp:
                return known[1]
            text = read_text(path).text
        except (OSError, UseError):
            return None
        name = path.relative_to(self._folder).as_posix()
        sizes = find_sizes(Source(text))
        changed = datetime.fromtimestamp(about.st_mtime, UTC).isoformat(timespec="milliseconds")
        found = Listed(
            name,
            title_of(text) or path.stem,
            changed.replace("+00:00", "Z"),
            len(read_size_names(sizes[0]) if sizes is not None else ()) or 1,
        )
        self._seen[path] = (stamp, found)
        return found


def title_of(text: str) -> str:
    """The title of a pattern; empty where it has none."""
    lines: list[str] = [
        line.name for line in cut_page(Source(text[:4000]), read_size_names("One size")) if line.kind == "title"
    ]
    return lines[0].strip()[:200] if lines else ""
