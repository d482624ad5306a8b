"""A pile of papers of the small class."""

from __future__ import annotations

from pathlib import Path

import pytest

from problemgen.pipeline.typed_papers import TYPED_FILE, PaperBook, Pile


@pytest.fixture(scope="session")
def book(built: Path) -> PaperBook:
    """The small class, opened."""
    return PaperBook(built)


@pytest.fixture
def returned(tmp_path: Path) -> Path:
    """Where the pile is kept; it is not there yet."""
    return tmp_path / "returned" / "week"


@pytest.fixture
def pile(book: PaperBook, returned: Path) -> Pile:
    """An empty pile."""
    return Pile(returned, book)


@pytest.fixture
def file(returned: Path) -> Path:
    """The pile's file."""
    return returned / TYPED_FILE
