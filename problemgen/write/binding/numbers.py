"""The numbers of the objects that every bound file has once, and the first that may be a sheet's."""

from __future__ import annotations

__all__ = ["CATALOG", "DOCUMENT", "FIRST", "IDS", "INFO", "METADATA", "OUTLINES", "PAGES", "PARENTS", "TREE"]

CATALOG, PAGES, TREE, DOCUMENT, OUTLINES, PARENTS, IDS, METADATA, INFO, FIRST = range(1, 11)
