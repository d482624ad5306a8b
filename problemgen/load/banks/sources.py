"""The check that what a file cites is one of the sources."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from problemgen.load.fault_log import FaultLog
from problemgen.model.banks import Source
from problemgen.model.citation import Citation
from problemgen.model.document import Document

__all__ = ["check_citations", "check_document", "citations_in"]


def check_document(faults: FaultLog, document: Document, sources: Mapping[str, Source]) -> None:
    """Keep a fault for every citation of a file that names no source, or lacks what its source asks for."""
    for key, citations in citations_in(document):
        check_citations(faults, key, citations, sources)


def check_citations(faults: FaultLog, key: str, citations: Iterable[Citation], sources: Mapping[str, Source]) -> None:
    """The same for the citations at a key."""
    for one in citations:
        source = sources.get(one.key)
        if source is None:
            faults.unknown(key, one.key, sources, "a key of banks/sources.toml")
        elif source.place and not one.place:
            faults.add(key, repr(one.key), f"the {source.place} behind {one.key} and a space")
        elif source.words and not one.words:
            faults.add(key, repr(one.key), f"{source.words} behind a colon")


def citations_in(part: Any, *path: str) -> Iterator[tuple[str, tuple[Citation, ...]]]:
    """The citations of a document, with the keys that lead to them; an entry of a list goes by its id."""
    if isinstance(part, tuple) and isinstance(part[0], Citation):
        yield ".".join(path), part
        return
    for key, one in _inside(part):
        if one and isinstance(one, _HOLDING):
            label = getattr(one, "id", getattr(one, "of", None)) if isinstance(key, int) else None
            yield from citations_in(one, *((*path[:-1], label) if isinstance(label, str) else (*path, str(key))))


_HOLDING = (Document, Mapping, tuple)
"""What citations can stand in; a bank has ten other values for each of these, which are passed over unvisited."""


def _inside(part: Any) -> Iterable[tuple[str | int, Any]]:
    """The values in a document, a table or a list, by key or number."""
    if isinstance(part, Document):
        return vars(part).items()
    return part.items() if isinstance(part, Mapping) else enumerate(part, start=1)
