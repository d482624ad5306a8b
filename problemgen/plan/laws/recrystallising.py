"""Recrystallising: the solvent that dissolves a crude product hot, and what stays dissolved in it when it is cold."""

from __future__ import annotations

from problemgen.language.messages import N_
from problemgen.plan.table import error, law

__all__ = ["LAWS"]

_SOURCE = "common-practice: a solubility is told as the mass that 100 mL of the solvent dissolve"

HOT = law(
    "dissolved-hot", N_("Solvent to dissolve it hot"), "m = S V",
    where={"S": "solubility(X,hot)", "V": "volume(X,solvent)", "m": "mass(X,crude)", "other": "solubility(X,cold)"},
    told="S",
    says={
        "V": N_("The mass over the solubility in the hot solvent is the least volume that dissolves it."),
        "m": N_("The volume times the solubility in the hot solvent is the most that it dissolves."),
    },
    source=_SOURCE,
    errors=[
        error("cold-for-hot", "m = other V", N_("the other solubility used"),
              N_("At which temperature is it dissolved, and at which are the crystals filtered off?")),
        error("hundred-forgotten", "m = (S in g/dL) (V in mL)",
              N_("the hundred millilitres of the solubility forgotten"),
              N_("The solubility is told for how many millilitres of solvent?")),
        error("solubility-multiplied", "(V in mL) = m (S in g/dL)",
              N_("multiplied by the solubility in place of divided"),
              N_("Does a better solvent take more of itself, or less?"), at="V"),
    ],
)  # fmt: skip

COLD = law(
    "dissolved-cold", N_("What stays in the cold mother liquor"), "m = S V",
    where={"S": "solubility(X,cold)", "V": "volume(X,solvent)", "m": "mass(X,lost)", "other": "solubility(X,hot)"},
    told="S",
    says={
        "m": N_("The volume of the solvent times the solubility in the cold stays dissolved, and is lost."),
        "V": N_("What is lost over the solubility in the cold is the volume of the solvent."),
    },
    source=_SOURCE,
    errors=HOT.errors[:2],
)  # fmt: skip

LAWS = (HOT, COLD)
