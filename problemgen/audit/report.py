"""What an audit found, as the cells of tables, sentences, and data."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict
from typing import Any

from problemgen.audit.fixed import TOLERANCES
from problemgen.audit.records import Audit, Credit, Sort, total_of

__all__ = ["CLOSING", "COLUMNS", "SORTS", "audit_data", "closing_rows", "rows", "sentences", "sort_rows"]

_NAMED = ("rewarded", "named rightly", "named wrongly", "not named", "paid again")

COLUMNS = (
    "template",
    "students",
    "honest refused",
    *_NAMED,
    "upside down",
    "random named",
    "random paid",
    "half-width %",
    *(f"blind ±{share:.0%}" for share in TOLERANCES),
    "limiting reagent",
)
"""The columns a template: those of blind numbers tell honest students refused and students whose numbers reward."""

SORTS = ("mistake", "made", *_NAMED)
"""The columns of the table of mistakes."""

CLOSING = ("marked by", "honest refused", "mistakes rewarded", "numbers that reward a mistake")


def rows(audit: Audit) -> Iterator[tuple[str, ...]]:
    """A row a template, and one for all where there are several."""
    for one in audit.templates:
        yield (
            one.template,
            f"{one.students}",
            f"{one.all_refused}",
            f"{one.all_rewarded}",
            *_named(one.marked.mistakes),
            *_credit(one.marked.credit),
            f"{100 * one.widths.median:.2f} to {100 * one.widths.worst:.2f}" if one.widths.worst else "-",
            *(f"{_share(f.refused, f.students)} / {_share(f.lucky, f.students)}" for f in one.fixed),
            *(["-"] * (len(TOLERANCES) - len(one.fixed))),
            _limits(one.limits),
        )
    if len(audit.templates) > 1:
        yield (
            "all",
            *(f"{_sum(audit.templates, name)}" for name in ("students", "all_refused", "all_rewarded")),
            *_named(total_of(one.marked.mistakes for one in audit.templates)),
            *_credit(_credit_of(audit)),
            *("" for _ in COLUMNS[11:]),
        )


def _named(sort: Sort) -> tuple[str, ...]:
    return tuple(_share(some, sort.made) for some in (sort.rightly, sort.wrongly, sort.unnamed, sort.paid_again))


def _credit(credit: Credit) -> tuple[str, str, str]:
    upside_down = f"{credit.upside_down} of {credit.compared}" if credit.compared else "-"
    named, paid = (_share(some, credit.guesses) for some in (credit.guesses_named, credit.guesses_paid))
    return upside_down, named, paid


def _limits(limits: Mapping[str, int]) -> str:
    total = sum(limits.values())
    return ", ".join(f"{source} {_share(count, total)}" for source, count in limits.items()) or "-"


def sort_rows(audit: Audit) -> Iterator[tuple[str, ...]]:
    """A row a sort of mistake, the worst named first."""
    alike = defaultdict(list)
    for one in audit.templates:
        for sort in one.marked.sorts:
            alike[sort.name].append(sort)
    for sort in sorted((total_of(some, name) for name, some in alike.items()), key=_how_well_named):
        yield sort.name, f"{sort.made}", f"{sort.rewarded}", *_named(sort)


def _how_well_named(sort: Sort) -> tuple[float, str]:
    return sort.rightly / max(1, sort.made), sort.name


def closing_rows(audit: Audit) -> Iterator[tuple[str, ...]]:
    """The windows on admitted numbers, and fixed tolerances on blindly drawn ones, over all templates."""
    every = audit.templates
    yield (
        "windows, admitted numbers",
        f"{_share(_sum(every, 'refused'), _sum(every, 'students'))}",
        f"{_share(_sum(every, 'rewarded'), _sum(every, 'mistakes'))}",
        "none" if not _sum(every, "rewarded") else "some",
    )
    for index, share in enumerate(TOLERANCES):
        fixed = [one.fixed[index] for one in every if one.fixed]
        yield (
            f"±{share:.0%}, blind numbers",
            _share(_sum(fixed, "refused"), _sum(fixed, "students")),
            _share(_sum(fixed, "rewarded"), _sum(fixed, "mistakes")),
            _share(_sum(fixed, "lucky"), _sum(fixed, "students")),
        )


def sentences(audit: Audit) -> Iterator[str]:
    """What it comes to, in words."""
    every = audit.templates
    students, mistakes, refused, rewarded = (
        _sum(every, name) for name in ("students", "mistakes", "refused", "rewarded")
    )
    many = f"{len(every)} template{'s' if len(every) != 1 else ''}"
    yield (
        f"{many}, by the windows: {refused:,} of {students:,} honest workers refused, {rewarded:,} of {mistakes:,} "
        f"mistakes rewarded{_by_chance(_sum(every, 'by_chance'))}."
    )
    marked = [one.marked for one in every]
    honest, refused, cut = (_sum(marked, name) for name in ("honest", "refused", "cut_refused"))
    yield (
        f"By the marking, in a sample: {refused:,} of {honest:,} honest workers refused, and {cut:,} where they cut "
        "their answers."
    )
    sort = total_of(one.mistakes for one in marked)
    yield (
        f"Of {sort.made:,} mistakes {sort.rewarded:,} are rewarded{_by_chance(sort.by_chance)}; "
        f"{_share(sort.rightly, sort.made)} named rightly, "
        f"{_share(sort.wrongly, sort.made)} wrongly, {_share(sort.unnamed, sort.made)} not{_told_as(audit)}; "
        f"{_share(sort.paid_again, sort.made)} are paid more than once."
    )
    credit = _credit_of(audit)
    yield (
        f"Credit is upside down in {credit.upside_down:,} of {credit.compared:,} parts. Of {credit.guesses:,} random "
        f"wrong numbers {_share(credit.guesses_named, credit.guesses)} are named, "
        f"{_share(credit.guesses_paid, credit.guesses)} paid."
    )
    yield from (f"{one.template}: {example}" for one in every for example in one.examples)


def _by_chance(count: int) -> str:
    """Those that no variant has to show: two digits exchanged, two mistakes that nearly cancel."""
    return f", and {count:,} by chance that no variant has to show" if count else ""


def _told_as(audit: Audit) -> str:
    """What the mistakes that are not named are told to be: " (wrong 12.0 %, slip 3.1 %)"."""
    verdicts: Counter[str] = Counter()
    for one in audit.templates:
        verdicts.update(one.marked.unnamed)
    made = total_of(one.marked.mistakes for one in audit.templates).made
    told = ", ".join(f"{verdict} {_share(count, made)}" for verdict, count in verdicts.most_common())
    return f" ({told})" if told else ""


def _credit_of(audit: Audit) -> Credit:
    return sum((one.marked.credit for one in audit.templates), Credit())


def audit_data(audit: Audit) -> dict[str, Any]:
    """The audit as data for JSON; widths are numbers between 0 and 1, all else are counts."""
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
