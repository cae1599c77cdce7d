"""Build hook: the patterns that we ship go into the wheel as `roundhand/_patterns`.

A plain force-include in pyproject.toml would also copy them into an editable install, where the copy would grow stale;
there the patterns are read from the repository itself.
"""

from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class PatternsHook(BuildHookInterface[Any]):
    """Adds the repository's patterns to a wheel that is going to be handed out."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Names the folder to add; an editable install gets nothing."""
        if version == "standard":
            build_data["force_include"]["patterns"] = "roundhand/_patterns"
