"""A sheet taken apart: what of it stands, under numbers of its own, in every file that it is bound into."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name

from problemgen.write.binding.numbers import DOCUMENT, FIRST, OUTLINES, PAGES

__all__ = ["Leaf", "Number", "Sheet", "leaf_of", "renumbered", "sheets_of"]

_TOKEN = re.compile(rb"\((?:[^\\()]+|\\.)*\)|<[0-9a-f]+>|(\d+) 0 R\b", re.DOTALL)
"""A string, in which a reference is none, or a reference, in what pikepdf writes of an object."""

_BETWEEN = b"\0"
"""What stands in no such text: in a string it is written as a number."""

_OF_NEIGHBOURS = ("/Parent", "/Next", "/Prev", "/Title")
"""What of an entry of the outline hangs on the file that it is bound into."""

Number = Callable[[pikepdf.Stream, Callable[[], int]], int | None]
"""The number of a stream that sheets share, made by the second argument where it has none yet; None for another one."""


@dataclass
class Leaf:
    """One sheet's objects: numbered from `first`, `count` of them.

    `texts` and `streams` have them by number (of a stream its dictionary and its bytes), `needs` the numbers of what is
    shared. `pages`, `part`, `parents` and `ids` are the numbers of the nodes of the file's trees that hold its pages,
    its tags, and which tag a piece of a page, or a name, belongs to (0 where there is no name); `tops` its entries of
    the outline: number, title, and what else stands in them.
    """

    first: int
    pages: int
    part: int
    parents: int
    sheets: int
    box: tuple[str, ...]
    language: str
    ids: int = 0
    count: int = 0
    tops: list[tuple[int, str, str]] = field(default_factory=list)
    needs: list[int] = field(default_factory=list)
    texts: dict[int, bytes] = field(default_factory=dict)
    streams: dict[int, tuple[bytes, bytes]] = field(default_factory=dict)


@dataclass(frozen=True)
class Sheet:
    """Pages of a PDF that are bound together, with the tags and the entries of the outline that lead to them."""

    pages: Sequence[pikepdf.Page]
    tags: Sequence[Any]
    entries: Sequence[Any]


def sheets_of(source: pikepdf.Pdf, *, apart: bool) -> list[Sheet]:
    """All of a PDF as one, or `apart` a sheet for each entry of the first level of its outline.

    Such an entry, and the heading that it is of, is where a sheet begins, with its pages and its tags; a blank page at
    its end, which alone has no tags, is left out.
    """
    entries, pages = list(_chained(source.Root.get("/Outlines"))), list(source.pages)
    (document,) = _listed(source.Root.StructTreeRoot.K)
    tags = list(document.K)
    if not apart or len(entries) < 2:
        return [Sheet(pages, tags, entries)]
    opening = {entry.Dest[0].objgen for entry in entries}
    begins = [place for place, page in enumerate(pages) if page.obj.objgen in opening]
    heads = [place for place, tag in enumerate(tags) if tag.S == Name.H1]
    page_cuts, tag_cuts = pairwise([*begins, len(pages)]), pairwise([0, *heads[1:], len(tags)])
    return [
        Sheet(_tagged(pages[slice(*on)]), tags[slice(*within)], [entry])
        for on, within, entry in zip(page_cuts, tag_cuts, entries, strict=True)
    ]


def _tagged(pages: Sequence[pikepdf.Page]) -> list[pikepdf.Page]:
    return [page for page in pages if "/StructParents" in page.obj]


def _chained(outline: Any) -> Iterator[Any]:
    entry = outline.get("/First") if outline is not None else None
    while entry is not None:
        yield entry
        entry = entry.get("/Next")


def _listed(kids: Any) -> list[Any]:
    return list(kids) if isinstance(kids, Array) else [kids]


class _Copying:
    """Copies the objects of a sheet, and of what these refer to, under new numbers."""

    def __init__(self, source: pikepdf.Pdf, first: int, shared: Number) -> None:
        """The numbers begin with `first`; `shared` knows the streams that many sheets have."""
        self._source, self._shared, self.next = source, shared, first
        self._numbers: dict[int, int] = {}
        self._waiting: list[tuple[int, Any]] = []
        self._references: dict[bytes, bytes] = {}  # as they are written, by the number in the sheet
        self._needs: set[int] = set()

    def stands_for(self, source: Any) -> int:
        """Give the next number to an object whose text the caller writes."""
        number = self.new()
        self._numbers[source.objgen[0]] = number
        return number

    def new(self) -> int:
        """The next number."""
        self.next += 1
        return self.next - 1

    def reference(self, source: Any) -> str:
        """An object of the sheet as a reference to its copy."""
        return f"{self._number(source.objgen[0])} 0 R"

    def text(self, source: Any) -> bytes:
        """The text of an object, with the copies' numbers."""
        return self._with_numbers(source.unparse(resolved=True))

    def copy(self, leaf: Leaf, prefix: str) -> None:
        """Copy all that is referred to into a leaf; names of tags get the prefix."""
        while self._waiting:
            found, self._waiting = self._waiting, []
            texts = [self._own_text(source, prefix) for _number, source in found]
            renumbered = self._with_numbers(_BETWEEN.join(texts)).split(_BETWEEN)  # all at once: a third of the time
            for (number, source), text in zip(found, renumbered, strict=True):
                if isinstance(source, pikepdf.Stream):
                    leaf.streams[number] = text, source.read_raw_bytes()
                else:
                    leaf.texts[number] = text
        leaf.needs = sorted(self._needs)
        leaf.count = self.next - leaf.first

    def has(self, source: Any) -> bool:
        """Whether an object was copied."""
        return source.objgen[0] in self._numbers

    def _own_text(self, source: Any, prefix: str) -> bytes:
        """The text of an object, of a stream its dictionary's; a tag's name, and those it refers to, get the prefix."""
        if isinstance(source, pikepdf.Stream):
            return source.stream_dict.unparse()
        text: bytes = source.unparse(resolved=True)
        if b"/StructElem" in text and (b"/ID" in text or b"/Headers" in text):  # few are: asking each takes long
            _rename(source, prefix)
            text = source.unparse(resolved=True)
        return text

    def _with_numbers(self, text: bytes) -> bytes:
        references = self._references

        def renumbered(found: re.Match[bytes]) -> bytes:
            source = found[1]
            if source is None:
                return found[0]
            return references.get(source) or self._reference(source)

        return _TOKEN.sub(renumbered, text)

    def _reference(self, source: bytes) -> bytes:
        self._references[source] = b"%d 0 R" % self._number(int(source))
        return self._references[source]

    def _number(self, source: int) -> int:
        number = self._numbers.get(source)
        if number is None:
            thing = self._source.get_object(source, 0)
            number = self._shared(thing, self.new) if isinstance(thing, pikepdf.Stream) else None
            if number is None:
                number = self.new()
                self._waiting.append((number, thing))
            else:
                self._needs.add(number)
            self._numbers[source] = number
        return number


def _rename(tag: Any, prefix: str) -> None:
    """Put a prefix before the name of a tag, and before those of the headers that it refers to."""
    if "/ID" in tag:
        tag.ID = pikepdf.String(f"{prefix}{tag.ID}")
    for one in _listed(tag.get("/A", Array())):
        if "/Headers" in one:
            one.Headers = Array([pikepdf.String(f"{prefix}{name}") for name in one.Headers])


def leaf_of(source: pikepdf.Pdf, sheet: Sheet, first: int, shift: int, shared: Number) -> Leaf:
    """Take a sheet apart: numbers from `first`, and so much added to the keys of what has tags."""
    copying, root = _Copying(source, first, shared), source.Root
    tops = [copying.stands_for(entry) for entry in sheet.entries]
    (document,) = _listed(root.StructTreeRoot.K)
    pages, part, parents = copying.stands_for(root.Pages), copying.stands_for(document), copying.new()
    box = tuple(str(edge) for edge in sheet.pages[0].mediabox)
    leaf = Leaf(first, pages, part, parents, len(sheet.pages), box, str(root.get("/Lang", "")))
    kids = " ".join(copying.reference(page.obj) for page in sheet.pages)
    head = f"<</Type/Pages/Parent {PAGES} 0 R/Count {len(sheet.pages)}/Kids[{kids}]>>"
    leaf.texts[pages] = head.encode()
    tags = " ".join(copying.reference(tag) for tag in sheet.tags)
    spoken = pikepdf.String(leaf.language).unparse().decode()
    leaf.texts[part] = f"<</Type/StructElem/S/Part/P {DOCUMENT} 0 R/Lang {spoken}/K[{tags}]>>".encode()
    leaf.texts[parents] = copying.text(_parents(source, sheet, shift))
    for number, entry in zip(tops, sheet.entries, strict=True):
        more = Dictionary({name: value for name, value in entry.items() if name not in _OF_NEIGHBOURS})
        inner = copying.text(more).strip()[2:-2].strip().decode("latin-1")
        leaf.tops.append((number, str(entry.Title), f"/Parent {OUTLINES} 0 R {inner}"))
    prefix = f"{first:08d}-"  # so many digits that names stand in the order of the sheets
    named = _named(root.StructTreeRoot)
    if named:
        leaf.ids = copying.new()
    copying.copy(leaf, prefix)
    mine = {f"{prefix}{name}": tag for name, tag in sorted(named.items()) if copying.has(tag)}
    if named:
        leaf.texts[leaf.ids] = copying.text(_limited("/Names", mine)) if mine else b"null"
    if not mine:
        leaf.ids = 0
    return leaf


def renumbered(leaf: Leaf, first: int, shared: Mapping[int, int]) -> Leaf:
    """A sheet with other numbers: its own from `first` on, and those of what is shared as told."""
    shift = first - leaf.first

    def number(before: int) -> int:
        return before if before < FIRST else shared.get(before, before + shift)

    def reference(found: re.Match[bytes]) -> bytes:
        return found[0] if found[1] is None else b"%d 0 R" % number(int(found[1]))

    def text(before: bytes) -> bytes:
        return _TOKEN.sub(reference, before)

    return replace(
        leaf,
        first=first,
        pages=leaf.pages + shift,
        part=leaf.part + shift,
        parents=leaf.parents + shift,
        ids=leaf.ids and leaf.ids + shift,
        tops=[(top + shift, title, text(more.encode("latin-1")).decode("latin-1")) for top, title, more in leaf.tops],
        needs=sorted(map(number, leaf.needs)),
        texts={before + shift: text(one) for before, one in leaf.texts.items()},
        streams={before + shift: (text(head), raw) for before, (head, raw) in leaf.streams.items()},
    )


def _named(tree: Any) -> Mapping[str, Any]:
    return dict(pikepdf.NameTree(tree.IDTree).items()) if "/IDTree" in tree else {}


def _limited(kind: str, entries: Mapping[Any, Any]) -> Any:
    """A node of a tree of names or numbers."""
    keys = list(entries)
    flat = [part for entry in entries.items() for part in entry]
    return Dictionary({"/Limits": Array([keys[0], keys[-1]]), kind: Array(flat)})


def _parents(source: pikepdf.Pdf, sheet: Sheet, shift: int) -> Any:
    """The node that leads from the pieces of a sheet's pages to their tags, under new keys, which the pages get too."""
    known = pikepdf.NumberTree(source.Root.StructTreeRoot.ParentTree)
    found = {}
    for page in sheet.pages:
        for thing, key in ((page.obj, "/StructParents"), *((note, "/StructParent") for note in _notes(page))):
            if key in thing:
                before = int(thing[key])
                thing[key] = before + shift
                found[before + shift] = known[before]
    return _limited("/Nums", dict(sorted(found.items())))


def _notes(page: pikepdf.Page) -> Any:
    return page.obj.get("/Annots", Array())
