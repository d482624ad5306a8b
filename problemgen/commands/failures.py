"""Where judging failed, for a developer."""

from __future__ import annotations

import logging
import os

__all__ = ["show_failures"]


def show_failures() -> None:
    """With PROBLEMGEN_DEBUG in the environment, tell on standard error where judging fails."""
    if os.environ.get("PROBLEMGEN_DEBUG"):
        logging.basicConfig(format="%(message)s")
        logging.getLogger("problemgen").setLevel(logging.DEBUG)
