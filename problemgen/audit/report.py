"""What an audit found, as the cells of a table, a closing table, sentences, and data."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import Any

from problemgen.audit.fixed import TOLERANCES
from problemgen.audit.records import Audit

__all__ = ["CLOSING", "COLUMNS", "audit_data", "closing_rows", "rows", "sentences"]

COLUMNS = (
    "template",
    "students",
    "honest refused",
    "mistakes rewarded",
    "in pairs",
    "named",
    "half-width %",
    *(f"blind ±{share:.0%}" for share in TOLERANCES),
)
"""The columns a template: the last ones tell honest students refused and students whose numbers reward a mistake."""

CLOSING = ("marked by", "honest refused", "mistakes rewarded", "in pairs", "numbers that reward a mistake")


def rows(audit: Audit) -> Iterator[tuple[str, ...]]:
    """A row a template."""
    for one in audit.templates:
        yield (
            one.template,
            f"{one.students}",
            f"{one.refused}",
            f"{one.rewarded}",
            f"{one.pairs_rewarded}",
            _share(one.naming.named, one.naming.mistakes),
            f"{100 * one.widths.median:.2f} to {100 * one.widths.worst:.2f}" if one.widths.worst else "-",
            *(f"{_share(f.refused, f.students)} / {_share(f.lucky, f.students)}" for f in one.fixed),
            *(["-"] * (len(TOLERANCES) - len(one.fixed))),
        )


def closing_rows(audit: Audit) -> Iterator[tuple[str, ...]]:
    """The windows on admitted numbers, and fixed tolerances on blindly drawn ones, over all templates."""
    every = audit.templates
    yield (
        "windows, admitted numbers",
        f"{_share(_sum(every, 'refused'), _sum(every, 'students'))}",
        f"{_share(_sum(every, 'rewarded'), _sum(every, 'mistakes'))}",
        f"{_share(_sum(every, 'pairs_rewarded'), _sum(every, 'pairs'))}",
        "none" if not _sum(every, "rewarded") else "some",
    )
    for index, share in enumerate(TOLERANCES):
        fixed = [one.fixed[index] for one in every if one.fixed]
        yield (
            f"±{share:.0%}, blind numbers",
            _share(_sum(fixed, "refused"), _sum(fixed, "students")),
            _share(_sum(fixed, "rewarded"), _sum(fixed, "mistakes")),
            _share(_sum(fixed, "pairs_rewarded"), _sum(fixed, "pairs")),
            _share(_sum(fixed, "lucky"), _sum(fixed, "students")),
        )


def sentences(audit: Audit) -> Iterator[str]:
    """What it comes to, in words."""
    every = audit.templates
    students, mistakes, pairs = (_sum(every, name) for name in ("students", "mistakes", "pairs"))
    refused, rewarded, in_pairs = (_sum(every, name) for name in ("refused", "rewarded", "pairs_rewarded"))
    many = f"{len(every)} template{'s' if len(every) != 1 else ''}"
    yield (
        f"{many}: {refused:,} of {students:,} honest workers refused; rewarded in full: {rewarded:,} of {mistakes:,} "
        f"mistakes made alone, {in_pairs:,} of {pairs:,} made in pairs."
    )
    undone = [(one.template, pair) for one in every for pair in one.undone]
    plural = "s" if len(undone) != 1 else ""
    if undone:
        yield f"Left out, since one always undoes the other and every number is right: {len(undone)} pair{plural}."
        yield from (f"  {template}: {pair}" for template, pair in undone)
    if _sum(every, "no_odds"):
        yield f"Left out, since the step comes out as it should: {_sum(every, 'no_odds'):,} mistakes and pairs."
    yield _naming(audit)
    yield from (f"{one.template}: {example}" for one in every for example in one.examples)


def _naming(audit: Audit) -> str:
    naming = [one.naming for one in audit.templates]
    honest, made, pairs, parts, apart = (
        _sum(naming, name) for name in ("honest", "mistakes", "pairs", "compared", "disagreements")
    )
    return (
        f"Marked in a sample: {honest:,} honest workers, {made:,} mistakes made alone "
        f"({_share(_sum(naming, 'named'), made)} named), {pairs:,} pairs ({_share(_sum(naming, 'pairs_named'), pairs)} "
        f"with both named); the marking differs from this audit in {apart} of {parts:,} parts."
    )


def audit_data(audit: Audit) -> dict[str, Any]:
    """The audit as data for JSON; shares and widths are numbers between 0 and 1, all else are counts."""
    return {"holds": audit.holds, "templates": [asdict(one) | {"holds": one.holds} for one in audit.templates]}


def _sum(records: Sequence[Any], name: str) -> int:
    return sum(int(getattr(one, name)) for one in records)


def _share(some: int, of: int) -> str:
    """A percentage: 0 and 100 % only where none or all are meant."""
    if not of:
        return "-"
    if some in (0, of):
        return f"{100 * some // of} %"
    share = 100 * some / of
    return "<0.1 %" if share < 0.1 else ">99.9 %" if share > 99.9 else f"{share:.1f} %"
