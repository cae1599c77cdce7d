"""All that one open desk holds: its folder, its workers, its key, and who is listening for changes."""

from __future__ import annotations

import asyncio
import secrets
from dataclasses import dataclass, field

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
    lanes: dict[str, Lane] = field(
        default_factory=lambda: {"counts": Lane(20.0), "edit": Lane(60.0), "press": Lane(180.0)}
    )

    async def warm(self) -> None:
        """Starts the workers that typing needs, before anybody types."""
        await asyncio.gather(self.lanes["counts"].warm(), self.lanes["edit"].warm())

    def part(self) -> None:
        """Tells whoever listens that the desk is being closed."""

    async def close(self) -> None:
        """Ends the workers and closes the store."""
        for lane in self.lanes.values():
            await lane.close()
        self.shelf.revisions.close()
