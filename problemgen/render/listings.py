"""Values of one kind from several measurements, in a table: a column a run of the burette, a row a reading."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from problemgen.model.blocks import Block, Line, Prose, Table
from problemgen.model.fixed import Datum
from problemgen.model.problem import Species
from problemgen.model.quantity import KINDS, Quantity, Role
from problemgen.render.prompts import quantity_text
from problemgen.render.symbols import capitalised

__all__ = ["in_list", "listing_blocks", "words_in_list"]

_ROLES, _KINDS = list(Role), list(KINDS)


def in_list(quantity: Quantity) -> tuple[int, int, int]:
    """Where a value stands in its list: column by column, each from above; zeros for one that stands in none."""
    if not quantity.role.words.listing:
        return (0, 0, 0)
    return (1 + quantity.stage, _ROLES.index(quantity.role), _KINDS.index(quantity.kind))


def words_in_list(quantity: Quantity) -> str:
    """The words in front of a value of a list where it stands in a line: "final reading, run 2: "."""
    head = _head(quantity)
    column = f"{quantity.role.words.each.lower()} {head}" if quantity.stage else head
    return f"{_entry(quantity)}, {column}: "


def listing_blocks(
    species: Mapping[str, Species], quantities: Iterable[Quantity], given: Mapping[str, Datum]
) -> Iterator[Block]:
    """A table for each list of a substance; `quantities` are those that stand in lists."""
    lists: dict[tuple[str, str], list[Quantity]] = {}
    for quantity in quantities:
        lists.setdefault((quantity.role.words.listing, quantity.of), []).append(quantity)
    for (listing, of), mine in lists.items():
        yield _table(f"{listing}: {species[of].name}", mine, given)


def _table(caption: str, mine: Sequence[Quantity], given: Mapping[str, Datum]) -> Table:
    rows: dict[str, dict[str, str]] = {}
    for quantity in sorted(mine, key=in_list):
        rows.setdefault(_entry(quantity), {})[_head(quantity)] = quantity_text(given[quantity.id])
    heads = dict.fromkeys(_head(quantity) for quantity in sorted(mine, key=in_list))
    header = _line(mine[0].role.words.each, *heads)
    body = tuple(_line(capitalised(entry), *(cells.get(head, "–") for head in heads)) for entry, cells in rows.items())
    shares = (3, *(2 for _ in heads))
    return Table(caption, header, body, (False, *(True for _ in heads)), shares=shares)


def _entry(quantity: Quantity) -> str:
    return quantity.role.words.entry or KINDS[quantity.kind].words


def _head(quantity: Quantity) -> str:
    return quantity.said(quantity.role.words.head)


def _line(*texts: str) -> tuple[Line, ...]:
    return tuple((Prose(text),) for text in texts)
