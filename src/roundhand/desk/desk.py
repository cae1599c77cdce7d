"""All that one open desk holds: its folder, its workers, its key, and who is listening for changes."""

from __future__ import annotations

import asyncio
import secrets
from dataclasses import dataclass, field

from roundhand.desk.changes import Changes
from roundhand.desk.lanes import Lane
from roundhand.workshop.shelf import Shelf


def new_key() -> str:
    """A secret that nobody can guess."""
    return secrets.token_urlsafe(24)


@dataclass
class Desk:
    """One open desk. Counting has a worker of its own, so that no keystroke waits for an edit or a page."""

    shelf: Shelf
    port: int
    key: str = field(default_factory=new_key)
    lanes: dict[str, Lane] = field(init=False)
    changes: Changes = field(init=False)

    def __post_init__(self) -> None:
        """Nobody works and nobody listens yet."""
        limits = {"counts": 20.0, "edit": 60.0, "press": 180.0}
        self.lanes = {name: Lane(self.shelf.folder, limit) for name, limit in limits.items()}
        self.changes = Changes(self.shelf)

    async def warm(self) -> None:
        """Starts the workers that typing needs, before anybody types."""
        await asyncio.gather(self.lanes["counts"].warm(), self.lanes["edit"].warm())

    def part(self) -> None:
        """Lets whoever listens go, since the desk is being closed."""
        self.changes.part()

    async def close(self) -> None:
        """Ends the workers and closes the store."""
        for lane in self.lanes.values():
            await lane.close()
        self.shelf.revisions.close()
