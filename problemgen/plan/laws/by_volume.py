"""Contents by volume: volume percent, grams in a hundred millilitres, traces in water."""

from __future__ import annotations

from problemgen.language.messages import N_
from problemgen.plan.table import error, law

__all__ = ["LAWS"]

VOLUME_PERCENT = law(
    "volume-percent", N_("Volume percent of a solution"), "V = phi solution",
    where={"V": "volume(X)", "phi": "volume_fraction(X)", "solution": "volume(X,solution)"}, told="phi",
    says={
        "V": N_("The volume of the solution times its volume percent gives the volume of the pure liquid."),
        "solution": N_("The volume of the pure liquid divided by the volume percent gives the volume of the solution."),
        "phi": N_("The volume of the pure liquid divided by that of the solution gives the volume percent."),
    },
    source="oiml-r22-1975: alcoholic strength by volume; green-book-2007 2.10: volume fraction φ",
    errors=[
        error("volume-percent-left-out", "V = solution", N_("volume percent left out"),
              N_("Only a part of the solution is the liquid: what does the percentage by volume say?"),
              at="V solution"),
        error("volume-percent-divided", "V = solution / phi", N_("volume percent used upside down"),
              N_("Can the pure liquid take up more room than the solution?"), at="V solution"),
    ],
)  # fmt: skip

MASS_PER_VOLUME = law(
    "mass-per-volume-percent", N_("Grams in a hundred millilitres"), "gamma = m / V",
    where={"gamma": "mass_volume_percent(X)", "m": "mass(X)", "V": "volume(X,solution)"}, told="gamma",
    says={
        "gamma": N_("The mass of the solute divided by the volume of the solution, in grams per 100 mL."),
        "m": N_("The grams per 100 mL times the volume of the solution give the mass of the solute."),
        "V": N_("The mass of the solute divided by the grams per 100 mL gives the volume of the solution."),
    },
    source="green-book-2007 2.10: γ = m/V; common-practice: percent by mass per volume",
    errors=[
        error("per-litre-for-percent", "(gamma in g/dL) = m / V", N_("grams per litre in the place of grams in 100 mL"),
              N_("A percent is a part of a hundred: grams in which volume?")),
    ],
)  # fmt: skip

TRACE = law(
    "trace", N_("Traces in water"), "m = rho w V",
    where={"w": "trace_fraction(X)", "rho": "density(,dilute)", "m": "mass(X)", "V": "volume(X,solution)"}, told="w",
    says={
        "m": N_("One litre of a dilute solution in water weighs very nearly one kilogram: 1 ppm is 1 mg in a litre."),
        "w": N_("One litre of a dilute solution in water weighs very nearly one kilogram: 1 mg in a litre is 1 ppm."),
        "V": N_("One litre of a dilute solution in water weighs very nearly one kilogram: 1 ppm is 1 mg in a litre."),
    },
    source="common-practice: density of dilute aqueous solutions taken as 1.00 g/mL",
    errors=[
        error("ppm-as-percent", "m = rho V (w in ppm) / 100", N_("parts per million taken as percent"),
              N_("How many parts in all does one part belong to?")),
        error("ppm-and-ppb", "m = 1000 rho w V", N_("parts per million and per billion mixed up"),
              N_("Which part of a gram is in each kilogram: a thousandth or a millionth?")),
    ],
)  # fmt: skip

LAWS = (VOLUME_PERCENT, MASS_PER_VOLUME, TRACE)
