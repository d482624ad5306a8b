"""Making variants, against bare numpy on as many candidates and against sympy substitution on as many variants."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
from bare_numpy import BARE, Floats
from bare_sympy import SymbolicPlan, Way
from bench_table import best_of, note, print_table, times
from sympy.core.cache import clear_cache

from problemgen.load.banks.banks import load_banks
from problemgen.load.resources import banks_folder, templates_folder
from problemgen.load.sets.courses import template_ids
from problemgen.load.templates.template import load_template
from problemgen.make.admissible import Judge
from problemgen.make.candidates import Candidates, Stream, draw_candidates
from problemgen.make.variants import Maker, variant_from
from problemgen.model.template import Template
from problemgen.model.variant import Variant

__all__ = ["making"]

STUDENTS = 250
BATCH = 32  # candidates a student in the figures by candidate
SYMBOLIC = 12  # variants worked in sympy
_STREAM = Stream(b"benchmark", "benchmark", "p1")


@dataclass(frozen=True)
class _Figures:
    """Seconds: a whole making with its counts, a candidate's drawing and judging, and the baselines."""

    made: float
    variants: int
    looked_at: int
    drawn: float
    judged: float
    exact: float
    bare: float
    bare_mistakes: float
    xreplace: float
    subs: float


def making() -> None:
    """Print the figures of both templates."""
    banks = load_banks(banks_folder())
    paths = template_ids(templates_folder())
    measured = {name: _measured(load_template(paths[name], name, banks)) for name in BARE}
    rows = [row for name, figures in measured.items() for row in _rows(name, figures)]
    print_table("Making variants", ("", "time", "against", "ratio"), rows)
    note(f"{STUDENTS} students. Bare numpy works floats: no draws, no windows, no rules; sympy the values of steps and")
    note(
        "mistakes with Rational: no windows. Windows are made for every candidate in floats, for each kept one exactly."
    )


def _measured(template: Template) -> _Figures:
    students = [f"s{number:03}" for number in range(STUDENTS)]

    def make() -> tuple[Maker, list[Variant]]:
        maker = Maker(template, _STREAM)
        return maker, list(maker.variants(students))

    made, (maker, variants) = best_of(make)
    judge = Judge(template)
    drawn, candidates = best_of(lambda: draw_candidates(template, _STREAM, students, 0, BATCH))
    judged, judgement = best_of(lambda: judge.judge(candidates))
    kept = np.flatnonzero(judgement.admitted)[:STUDENTS].tolist()
    exact, _ = best_of(lambda: [variant_from(template, candidates, row, "s", "p1") for row in kept])
    given = _bare_given(candidates)
    values, everything = BARE[template.id]
    _check_bare(template, values(given), variants, given)
    bare, _ = best_of(lambda: values(given), 20)
    bare_mistakes, (_, mistakes) = best_of(lambda: everything(given), 20)
    if len(mistakes) != len(template.plan.mistakes):
        raise AssertionError(f"{template.id}: {len(mistakes)} mistakes by hand, {len(template.plan.mistakes)} planned")
    per = STUDENTS * BATCH
    return _Figures(
        made / len(variants),
        len(variants),
        maker.candidates,
        drawn / per,
        judged / per,
        exact / len(kept),
        bare / per,
        bare_mistakes / per,
        _symbolic_time(template, variants[:SYMBOLIC], "xreplace"),
        _symbolic_time(template, variants[:SYMBOLIC], "subs"),
    )


def _bare_given(candidates: Candidates) -> dict[str, Floats]:
    return {name: np.ascontiguousarray(window.value) for name, window in candidates.windows.items()}


def _check_bare(
    template: Template, values: Mapping[str, Floats | float], variants: list[Variant], given: Mapping[str, Floats]
) -> None:
    """The formulas by hand must give the engine's values: here for the rows that became variants."""
    drawn = [draw.quantity.id for draw in template.draws]
    for variant in variants[:20]:
        same = [np.isclose(given[name], float(variant.values[name]), rtol=1e-12) for name in drawn]
        for row in np.flatnonzero(np.logical_and.reduce(same))[:1]:
            for name, value in values.items():
                found, expected = np.asarray(value)[row], float(variant.values[name])
                if not np.isclose(found, expected, rtol=1e-9) and "yield" not in name:
                    raise AssertionError(f"{template.id}: {name} is {found} by hand, {expected} by the plan")


def _symbolic_time(template: Template, variants: list[Variant], way: Way) -> float:
    """Seconds a variant in sympy; its expressions are made beforehand, and its cache holds no earlier run's values."""
    plan = SymbolicPlan.of(template.plan)
    given: list[dict[str, Fraction]] = [{name: one.values[name] for name in one.given} for one in variants]
    clear_cache()
    seconds, _ = best_of(lambda: [plan.worked(one, way) for one in given], 1)
    return seconds / len(variants)


def _rows(name: str, f: _Figures) -> list[tuple[str, ...]]:
    micro = 1e6
    looked = f.looked_at / f.variants
    candidate = f.drawn + f.judged
    bare, mistaken = looked * f.bare, looked * f.bare_mistakes
    return [
        (f"{name}: a kept variant", f"{f.made * micro:.0f} µs", "", ""),
        (f"  {looked:.1f} candidates each", "", f"bare values {bare * micro:.2f} µs", times(f.made / bare)),
        ("", "", f"with mistakes {mistaken * micro:.2f} µs", times(f.made / mistaken)),
        ("", "", f"sympy subs {f.subs * 1e3:.2f} ms", f"1/{times(f.subs / f.made)}"),
        ("", "", f"sympy xreplace {f.xreplace * 1e3:.2f} ms", f"1/{times(f.xreplace / f.made)}"),
        ("  its exact answers and windows", f"{f.exact * micro:.0f} µs", "", ""),
        ("  a candidate drawn", f"{f.drawn * micro:.3f} µs", "", ""),
        ("  a candidate judged", f"{f.judged * micro:.3f} µs", "", ""),
        (
            "  drawn and judged",
            f"{candidate * micro:.3f} µs",
            f"values {f.bare * micro:.4f} µs",
            times(candidate / f.bare),
        ),
        ("", "", f"with mistakes {f.bare_mistakes * micro:.4f} µs", times(candidate / f.bare_mistakes)),
        ("", "", f"sympy xreplace {f.xreplace * 1e3:.2f} ms", f"1/{times(f.xreplace / candidate)}"),
    ]
