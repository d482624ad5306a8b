"""The laws, one topic a file: each is a table (`problemgen.plan.table`) with its usual errors beside it."""

from __future__ import annotations

from problemgen.plan.law import Law
from problemgen.plan.laws import (
    absorbance,
    aliquots,
    amounts,
    back_titrations,
    blanks,
    burettes,
    by_volume,
    contents,
    formulas,
    gas_mixtures,
    gas_states,
    gas_volumes,
    gases,
    green,
    heating,
    held,
    isomers,
    measures,
    mixtures,
    optics,
    pair_yields,
    purification,
    reactions,
    recrystallising,
    scaling,
    separation,
    sequences,
    signals,
    solutions,
    titrant_strengths,
    two_components,
    two_products,
    yields,
)

__all__ = ["AMONG_REAGENTS", "BY_EQUATION", "LAWS", "LAWS_BY_ID"]

GASES: tuple[Law, ...] = (*gases.LAWS, *gas_states.LAWS, *gas_mixtures.LAWS, *gas_volumes.LAWS)
"""The laws of gases."""

DISSOLVED: tuple[Law, ...] = (*mixtures.LAWS, *by_volume.LAWS, *solutions.LAWS, *aliquots.LAWS, *titrant_strengths.LAWS)
"""The laws of solutions."""

MADE_OF: tuple[Law, ...] = (*formulas.LAWS, *contents.LAWS)
"""The laws of what compounds and samples are made of."""

COMPARED: tuple[Law, ...] = (*scaling.LAWS, *measures.LAWS, *green.LAWS, *isomers.LAWS)
"""The laws that compare what is taken, put in and formed."""

PAIRED: tuple[Law, ...] = (*signals.LAWS, *two_products.LAWS, *pair_yields.LAWS)
"""The laws of two products of one reagent, and of what an instrument shows of them."""

PARTED: tuple[Law, ...] = (*separation.LAWS, *recrystallising.LAWS, *purification.LAWS, *optics.LAWS, *absorbance.LAWS)
"""The laws of separating and telling apart."""

BY_EQUATION: tuple[Law, ...] = (
    *reactions.LAWS,
    *held.LAWS,
    *yields.LAWS,
    *sequences.LAWS,
    *back_titrations.LAWS,
    *two_components.LAWS,
    *heating.LAWS,
)
"""The laws that lead from one substance to another by an equation or a formula."""

AMONG_REAGENTS: tuple[Law, ...] = (
    *gas_mixtures.LAWS,
    *BY_EQUATION,
    *measures.LAWS,
    *isomers.LAWS,
    *pair_yields.LAWS,
)
"""The laws whose instances hang on which reagents compete; those of all others are the same before that is known."""

LAWS: tuple[Law, ...] = (
    *burettes.LAWS,
    *blanks.LAWS,
    *amounts.LAWS,
    *DISSOLVED,
    *GASES,
    *MADE_OF,
    *BY_EQUATION,
    *COMPARED,
    *PAIRED,
    *PARTED,
)
"""In the order in which a chain prefers them: where two laws reach a quantity in the same layer, the first yields it.

Burette readings come first, and a blank is taken off before anything is worked from a volume; then what a student does
with one substance (amounts, solutions, gases, formulas), then what leads by an equation to another, and what compares
or parts the results last.
"""

LAWS_BY_ID = {law.id: law for law in LAWS}
