"""Small problems of two products that are made of one reagent."""

from __future__ import annotations

from tests.support.law_scenes import DEHYDRATED, JOINED, REARRANGED, Case, species

__all__ = ["PAIR_CASES"]

PAIR_CASES = {
    "two isomers by their ratio": Case(
        DEHYDRATED, {"mass|alcohol": "6.50 g", "relative_amount|alkene": "84 1", "relative_amount|isomer": "16 1",
                     "mass|alkene|both": "3.42 g"},
        {"share|isomer": "%", "mass|isomer|actual": "g", "percent_yield|isomer": "%", "percent_yield|alkene|both": "%",
         "selectivity|alkene": "%", "amount|alcohol|unconverted": "mmol", "mass|alcohol|unconverted": "g"},
        further=(REARRANGED,), product="alkene",
    ),
    "two isomers by a share": Case(
        DEHYDRATED, {"share|alkene": "84.5 %", "mass|alkene|both": "3.42 g"},
        {"share|isomer": "%", "mass|isomer|actual": "g"}, further=(REARRANGED,), product="alkene",
    ),
    "two isomers by areas alone": Case(
        DEHYDRATED, {"peak_area|alkene": "8120 1", "peak_area|isomer": "1540 1"}, {"share|isomer": "%"},
        further=(REARRANGED,), product="alkene",
    ),
    "two products by areas": Case(
        DEHYDRATED, {"mass|alcohol": "6.50 g", "peak_area|alkene": "4960 1", "response_factor|alkene": "0.379 1",
                     "peak_area|ether": "2590 1", "response_factor|ether": "0.709 1", "mass|alkene|both": "3.14 g"},
        {"molar_mass|alkene|both": "g/mol", "percent_yield|alkene": "%", "percent_yield|alkene|both": "%",
         "selectivity|ether": "%", "conversion|alcohol": "%"},
        further=(JOINED,), product="alkene",
    ),
    "two products by integrals": Case(
        DEHYDRATED, {"integral|alkene": "5.11 1", "protons|alkene": "2 1", "integral|ether": "3.20 1",
                     "protons|ether": "4 1", "mass|alkene|both": "3.14 g"},
        {"mass_fraction|ether": "%", "mass|ether|actual": "g"}, further=(JOINED,), product="alkene",
    ),
    "two products beside a standard": Case(
        (*DEHYDRATED, species("marker")),
        {"mass|alcohol": "1.250 g", "mass|marker": "0.2550 g", "peak_area|marker": "2310 1",
         "peak_area|alkene": "4960 1", "response_factor|alkene": "0.379 1", "peak_area|ether": "2590 1",
         "response_factor|ether": "0.709 1", "peak_area|alcohol": "830 1", "response_factor|alcohol": "0.342 1"},
        {"share|ether": "%", "conversion|alcohol": "%", "selectivity|alkene": "%", "percent_yield|ether": "%"},
        further=(JOINED,), product="alkene", standard="marker",
    ),
}  # fmt: skip
