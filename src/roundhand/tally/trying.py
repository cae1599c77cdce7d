"""Phrases that are tried: where the hand stood before is kept, so that a run can be taken back."""

from __future__ import annotations

from typing import Any

import msgspec

from roundhand.notation.tree import Chain
from roundhand.tally.stitching import Stitching


class Standing(msgspec.Struct, frozen=True):
    """Where a hand stands in the row below, and how much it has made."""

    places: tuple[int, int, int, int, int, int, int]
    lengths: tuple[int, ...]
    trailing: Chain | None
    spaces: bool
    on_space: bool


class Trying(Stitching):
    """Makes stitches, and takes them back."""

    def standing(self) -> Standing:
        """Where the hand stands and how much it has made, so that a run can be taken back."""
        lengths = tuple(map(len, self._growing()))
        places = (self.at, self.gone, self.count, self.used, self.lacking, self.chains, self.skipped)
        return Standing(places, lengths, self.trailing, self.spaces, self.on_space)

    def stand(self, before: Standing) -> None:
        """Takes back all that was made since."""
        self.at, self.gone, self.count, self.used, self.lacking, self.chains, self.skipped = before.places
        for one, length in zip(self._growing(), before.lengths, strict=True):
            del one[length:]
        self.trailing, self.spaces, self.on_space = before.trailing, before.spaces, before.on_space

    def _growing(self) -> tuple[list[Any] | bytearray, ...]:
        """What grows while a row is worked, beside the numbers."""
        return self.made, self.missing, self.layout, self.groups, self.lengths, self.made_corners, self.peaks

    def failed_since(self, before: Standing) -> bool:
        """Whether places were lacking since."""
        return self.lacking > before.places[4] or len(self.missing) > before.lengths[1]
