"""Values of one kind from several measurements, in a table: a column a run of the burette, a row a reading."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from problemgen.language.letters import inside_a_sentence
from problemgen.language.messages import _
from problemgen.model.blocks import Block, Line, Prose, Table
from problemgen.model.fixed import Datum
from problemgen.model.problem import Species
from problemgen.model.quantity import KINDS, Quantity, Role
from problemgen.render.words.plots import plot_of
from problemgen.render.words.prompts import quantity_text
from problemgen.render.words.symbols import capitalised

__all__ = ["in_list", "listing_blocks", "words_in_list"]

_ROLES, _KINDS = list(Role), list(KINDS)

_ROOMY = 4
"""Columns beside the first that a page has room for; where there are more, each has a row."""


def in_list(quantity: Quantity) -> tuple[int, int, int]:
    """Where a value stands in its list: column by column, each from above; zeros for one that stands in none."""
    if not quantity.role.words.listing:
        return (0, 0, 0)
    return (1 + quantity.stage, *_place(quantity))


def _place(quantity: Quantity) -> tuple[int, int]:
    return _ROLES.index(quantity.role), _KINDS.index(quantity.kind)


def words_in_list(quantity: Quantity) -> str:
    """The words in front of a value of a list where it stands in a line: "final reading, run 2: "."""
    head = _head(quantity)
    column = f"{inside_a_sentence(_(quantity.role.words.each))} {head}" if quantity.stage else head
    return f"{_entry(quantity)}, {column}: "


def listing_blocks(
    species: Mapping[str, Species], quantities: Iterable[Quantity], given: Mapping[str, Datum]
) -> Iterator[Block]:
    """A table for each list of a substance; `quantities` are those that stand in lists."""
    lists: dict[tuple[str, str], list[Quantity]] = {}
    for quantity in quantities:
        lists.setdefault((quantity.role.words.listing, quantity.of), []).append(quantity)
    for (listing, of), mine in lists.items():
        yield _table(f"{_(listing)}: {species[of].name}", mine, given)
        points = _points(mine)
        if points:
            yield plot_of(points, given)


def _points(mine: Sequence[Quantity]) -> list[tuple[Quantity, Quantity]]:
    """The points of a standard curve: what each standard holds, and what it absorbs."""
    absorbed = [q for q in sorted(mine, key=in_list) if q.kind == "absorbance"]
    return [(held, q) for q in absorbed if (held := q.as_kind("concentration")) in mine]


def _table(caption: str, mine: Sequence[Quantity], given: Mapping[str, Datum]) -> Table:
    ordered = sorted(mine, key=in_list)
    cells = {(_entry(quantity), _head(quantity)): quantity_text(given[quantity.id]) for quantity in ordered}
    entries, heads = ([*dict.fromkeys(side)] for side in zip(*cells, strict=True))
    entries.sort(key=lambda entry: next(_place(quantity) for quantity in mine if _entry(quantity) == entry))
    corner = _(mine[0].role.words.each)
    if len(heads) > _ROOMY:
        header = _line(corner, *map(capitalised, entries))
        rows = [_line(head, *(cells.get((entry, head), "–") for entry in entries)) for head in heads]
    else:
        header = _line(corner, *heads)
        rows = [_line(capitalised(entry), *(cells.get((entry, head), "–") for head in heads)) for entry in entries]
    numeric = (False, *(True for _ in header[1:]))
    return Table(caption, header, tuple(rows), numeric, shares=(3, *(2 for _ in header[1:])))


def _entry(quantity: Quantity) -> str:
    return _(quantity.role.words.entry or KINDS[quantity.kind].words)


def _head(quantity: Quantity) -> str:
    return quantity.said(quantity.role.words.head)


def _line(*texts: str) -> tuple[Line, ...]:
    return tuple((Prose(text),) for text in texts)
