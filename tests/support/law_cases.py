"""Small problems that between them use every law."""

from __future__ import annotations

from problemgen.chemistry.formula import read_formula
from problemgen.model.problem import Species
from tests.support.law_scenes import (
    AIR,
    BESIDE,
    BOUND,
    ELEMENTS,
    IN_STEPS,
    LONE,
    NEUTRALISED,
    PAIR,
    POURED,
    REDUCED,
    SYNTHESIS,
    TITRATED,
    TWO,
    Case,
    species,
)
from tests.support.pair_cases import PAIR_CASES

__all__ = ["CASES"]

CASES = {
    "density, upwards": Case((LONE,), {"mass|acid": "12.5 g", "volume|acid": "8.40 mL"}, {"density|acid": "g/mL"}),
    "neat, in kilograms": Case((LONE,), {"mass|acid": "0.00250 kg"}, {"amount|acid": "mmol"}),
    "pounds and gallons": Case(
        (LONE,), {"mass|acid": "2.50 lb", "volume|acid": "0.310 gal"}, {"density|acid": "g/cm3"}
    ),
    "micrograms": Case((LONE,), {"mass|acid": "250 µg"}, {"amount|acid": "µmol", "count|acid": "molecules"}),
    "molar mass from mass": Case(
        (Species("unknown", "unknown", read_formula("H2O")),),
        {"mass|unknown": "1.00 g"},
        {"molar_mass|unknown": "g/mol", "amount|unknown": "mol"},
    ),
    "particles to mass": Case((LONE,), {"count|acid": "3.01e22 molecules"}, {"mass|acid": "g"}),
    "particles called otherwise": Case((species("iron"),), {"mass|iron": "2.5 g"}, {"count|iron": "atoms"}),
    "formula units": Case((species("white"),), {"count|white": "5.0e20 formula units"}, {"amount|white": "mmol"}),
    "purity": Case((LONE,), {"mass|acid|impure": "5.20 g", "mass_fraction|acid": "98.5 %"}, {"amount|acid": "mmol"}),
    "purity, upwards": Case(
        (LONE,), {"amount|acid": "25.0 mmol", "mass_fraction|acid": "0.85 1"}, {"mass|acid|impure": "g"}
    ),
    "purity as a percentage": Case(
        (LONE,), {"mass|acid|impure": "5.20 g", "mass|acid": "4950 mg"}, {"mass_fraction|acid": "%"}
    ),
    "traces": Case(
        (LONE,), {"mass|acid|solution": "1.250 kg", "mass_fraction|acid": "35.0 ppm"}, {"mass|acid": "mg"}
    ),
    "told in ppm": Case(
        (LONE,), {"mass|acid|solution": "1.250 kg", "mass|acid": "3.20 mg"}, {"mass_fraction|acid": "ppm"}
    ),
    "solute and solvent": Case(
        (LONE,), {"mass|acid": "3.5 g", "mass|acid|solvent": "120.0 g"},
        {"mass|acid|solution": "g", "mass_fraction|acid": "%"},
    ),
    "solvent, other units": Case(
        (LONE,), {"mass|acid|solution": "0.500 kg", "mass|acid": "35.0 g"}, {"mass|acid|solvent": "g"}
    ),
    "mass concentration": Case(
        (LONE,), {"mass|acid": "1.25 g", "volume|acid|solution": "250.0 mL"},
        {"mass_concentration|acid": "mg/L", "concentration|acid": "mM"},
    ),
    "label of a bottle": Case(
        (LONE,), {"mass_fraction|acid": "37.0 %", "density|acid|solution": "1.18 g/mL"},
        {"mass_concentration|acid": "g/L", "concentration|acid": "mol/L"},
    ),
    "percent by volume of bottle": Case(
        (LONE,), {"mass_fraction|acid": "37.0 %", "density|acid|solution": "1.18 kg/L", "amount|acid": "0.250 mol"},
        {"volume|acid|solution": "mL"},
    ),
    "dilution": Case(
        (LONE,), {"concentration|acid|initial": "12.0 M", "concentration|acid|final": "250 mM",
                  "volume|acid|final": "0.500 L"},
        {"volume|acid|initial": "mL", "volume|acid|added": "mL"},
    ),
    "hydrate": Case(
        (species("white"), species("blue", 0, "white")), {"mass|blue": "2.497 g"},
        {"amount|white": "mmol", "mass|white": "g"},
    ),
    "what it contains": Case(
        (species("salt"), species("element")), {"mass|salt": "1.622 g"},
        {"amount|element": "mol", "mass|element": "mg"},
    ),
    "what contains it": Case(
        (species("salt"), species("element")), {"mass|element": "1.063 g"}, {"amount|salt": "mol"},
    ),
    "gas, amount": Case(
        (species("hydrogen"),), {"pressure|hydrogen": "745 Torr", "volume|hydrogen": "24.8 mL",
                                 "temperature|hydrogen": "-3.5 °C"}, {"amount|hydrogen": "mmol"},
    ),
    "gas, volume": Case(
        (species("hydrogen"),), {"pressure|hydrogen": "1.02 atm", "mass|hydrogen": "5.25 g",
                                 "temperature|hydrogen": "296.4 K"}, {"volume|hydrogen": "m3"},
    ),
    "gas, pressure": Case(
        (species("hydrogen"),), {"volume|hydrogen": "2.50 L", "mass|hydrogen": "0.525 g",
                                 "temperature|hydrogen": "72.5 °F"}, {"pressure|hydrogen": "mmHg"},
    ),
    "gas, temperature": Case(
        (species("hydrogen"),), {"volume|hydrogen": "2.50 L", "amount|hydrogen": "0.104 mol",
                                 "pressure|hydrogen": "101.3 kPa"}, {"temperature|hydrogen": "°C"},
    ),
    "gas, temperature in °F": Case(
        (species("hydrogen"),), {"volume|hydrogen": "2.50 L", "amount|hydrogen": "0.104 mol",
                                 "pressure|hydrogen": "14.7 psi"}, {"temperature|hydrogen": "°F"},
    ),
    "gas, density": Case(
        (species("oxygen"),), {"pressure|oxygen": "745 mmHg", "temperature|oxygen": "22.5 °C"},
        {"density|oxygen": "g/L"},
    ),
    "gas, molar mass": Case(
        (Species("unknown", "unknown"),),
        {"pressure|unknown": "0.985 bar", "temperature|unknown": "98.0 °C", "density|unknown": "2.65 g/L"},
        {"molar_mass|unknown": "g/mol"},
    ),
    "gas, molar volume": Case(
        (species("oxygen"),), {"molar_volume|oxygen": "22.711 L/mol", "mass|oxygen": "1.250 g"},
        {"volume|oxygen": "mL", "density|oxygen": "g/L"},
    ),
    "gas, molar volume at conditions": Case(
        (species("oxygen"),), {"pressure|oxygen": "98.5 kPa", "temperature|oxygen": "22.5 °C"},
        {"molar_volume|oxygen": "L/mol"},
    ),
    "gas, two states": Case(
        (species("oxygen"),),
        {"pressure|oxygen|initial": "745 Torr", "volume|oxygen|initial": "50.5 mL",
         "temperature|oxygen|initial": "22.5 °C", "pressure|oxygen|final": "1.25 atm",
         "temperature|oxygen|final": "-10.5 °C"},
        {"volume|oxygen|final": "mL", "amount|oxygen": "mmol"},
    ),
    "gas, two states, a temperature asked": Case(
        (species("oxygen"),),
        {"volume|oxygen|initial": "50.5 mL", "temperature|oxygen|initial": "295.6 K", "volume|oxygen|final": "61.0 mL"},
        {"temperature|oxygen|final": "°C"},
    ),
    "gas, over water": Case(
        (species("oxygen"),),
        {"pressure|oxygen|total": "100.55 kPa", "pressure|oxygen|vapour": "2.339 kPa", "volume|oxygen": "55.0 mL",
         "temperature|oxygen": "20 °C"},
        {"pressure|oxygen": "kPa", "volume|oxygen|dry": "mL", "amount|oxygen": "mmol"},
    ),
    "gases, from masses": Case(
        AIR, {"mass|nitrogen": "3.50 g", "mass|oxygen": "1.20 g", "volume||mixed": "5.00 L",
              "temperature||mixed": "22.5 °C"},
        {"mole_fraction|oxygen": "1", "pressure|oxygen": "kPa", "pressure||mixed": "bar"},
    ),
    "gases that a reaction leaves": Case(
        (species("ammonia", -2), species("nitrogen", 1), species("hydrogen", 3)),
        {"mass|ammonia": "2.50 g", "pressure||mixed": "99.5 kPa", "temperature||mixed": "22.5 °C"},
        {"volume||mixed": "L", "mole_fraction|hydrogen": "1", "pressure|hydrogen": "kPa"},
    ),
    "gases driven off": Case(
        (species("baking", -2), species("soda", 1), species("water", 1), species("gas", 1)),
        {"mass|baking": "2.50 g", "volume||mixed": "5.05 L", "temperature||mixed": "155 °C"},
        {"amount||mixed": "mmol", "pressure||mixed": "kPa", "pressure|gas": "kPa"}, driven_off=("water", "gas"),
    ),
    "ions of a salt": Case(
        (species("clear"), species("aluminium"), species("sulfate")),
        {"mass|clear": "3.42 g", "volume|clear|solution": "250.0 mL"},
        {"concentration|aluminium": "mmol/L", "concentration|sulfate": "mol/L"},
    ),
    "an ion of two salts": Case(
        (species("table"), species("magnesia"), species("chloride")),
        {"mass|table": "12.55 g", "mass|magnesia": "2.45 g", "volume||common": "500.0 mL"},
        {"concentration|chloride": "mmol/L"},
    ),
    "gases, from fractions": Case(
        AIR, {"mole_fraction|oxygen": "0.209", "pressure||mixed": "99.5 kPa"},
        {"pressure|oxygen": "kPa", "pressure|nitrogen": "kPa"},
    ),
    "gas volumes": Case(SYNTHESIS, {"volume|nitrogen": "5.25 L"}, {"volume|ammonia|theoretical": "L"}),
    "gas volumes, limited": Case(
        SYNTHESIS, {"volume|nitrogen": "5.25 L", "volume|hydrogen": "12.5 L"},
        {"volume|ammonia|theoretical": "L", "volume|nitrogen|left": "L"},
    ),
    "vessels": Case(
        (*SYNTHESIS, Species("bulb", "bulb")), {"volume|nitrogen": "5.25 L", "volume|bulb": "250 mL"},
        {"volume|ammonia|theoretical": "L", "portions|bulb": "1"},
    ),
    "limiting": Case(
        PAIR, BOUND, {"extent||choice": "mol", "mass|salt|theoretical": "g", "amount|oxide|left": "mmol",
                      "amount|acid|left": "mol", "mass|acid|consumed": "g", "amount||unused": "mmol"},
    ),
    "used up asked first": Case(
        PAIR, BOUND, {"amount|oxide|consumed": "mmol", "amount|oxide|left": "mmol", "extent||choice": "mol"},
    ),
    "left over asked first": Case(PAIR, BOUND, {"amount|oxide|left": "mol", "amount|oxide|consumed": "mmol"}),
    "extents asked": Case(
        PAIR, BOUND,
        {"extent|oxide": "mmol", "extent|acid": "mmol", "extent|": "mmol", "amount|salt|theoretical": "mmol"},
    ),
    "both products": Case(
        PAIR, {**BOUND, "mass|salt|actual": "1.51 g"},
        {"amount|salt|from:oxide": "mmol", "amount|salt|from:acid": "mmol", "extent||choice": "mol",
         "mass|water|theoretical": "g", "amount|salt|theoretical": "mmol", "percent_yield|salt": "%"},
    ),
    "yield, in amounts": Case(
        PAIR, {**BOUND, "amount|salt|actual": "8.20 mmol"}, {"percent_yield|salt": "%", "amount|salt|actual": "mol"},
    ),
    "yield, forwards": Case(PAIR, {**BOUND, "percent_yield|salt": "62.5 %"}, {"mass|salt|actual": "mg"}),
    "yield, backwards": Case(
        PAIR, {"mass|salt|actual": "5.00 g", "percent_yield|salt": "81 %"}, {"mass|oxide": "g"},
    ),
    "a single reagent": Case(PAIR, {"mass|oxide": "2.50 g"}, {"mass|salt|theoretical": "g"}),
    "poured together": Case(
        (*POURED, species("element")),
        {"volume|lead|solution": "25.0 mL", "concentration|lead": "0.100 mol/L",
         "volume|iodide|solution": "0.0400 L", "concentration|iodide": "0.150 mol/L"},
        {"mass|yellow|theoretical": "g", "concentration|lead|mixed": "mol/L", "volume||mixed": "mL"},
    ),
    "counted": Case(
        PAIR, {"count|oxide": "7 molecules", "count|acid": "20 molecules"}, {"count|salt|theoretical": "molecules"},
    ),
    "equivalents, excess": Case(
        PAIR, {"mass|oxide": "2.50 g", "amount|acid": "125.0 mmol"},
        {"equivalents|acid|from:oxide": "1", "excess|acid": "%"},
    ),
    "by equivalents": Case(
        PAIR, {"mass|oxide": "2.50 g", "equivalents|acid": "7.5 1"}, {"mass|acid|taken": "g"},
    ),
    "with an excess": Case(
        PAIR, {"mass|salt|actual": "5.00 g", "percent_yield|salt": "81.0 %", "excess|acid": "20.0 %"},
        {"amount|acid|taken": "mmol"},
    ),
    "a published batch, larger": Case(
        (*PAIR, species("ethanol"), species("base")),
        {"amount|oxide|published": "5.00 mmol", "amount|oxide": "12.50 mmol", "equivalents|acid": "6.5 1",
         "loading|base": "2.5 %", "volume|ethanol|published": "15.0 mL"},
        {"scale_factor|": "1", "mass|acid|taken": "g", "mass|base|taken": "mg", "volume|ethanol|taken": "mL",
         "volume||vessel": "mL"},
    ),
    "a published batch, told by masses": Case(
        (*PAIR, species("base")),
        {"mass|oxide|published": "3.20 g", "mass|oxide": "1.155 g", "mass|acid|published": "4.50 g",
         "mass|base|published": "0.105 g"},
        {"equivalents|acid|from:oxide": "1", "loading|base": "%", "mass|acid|taken": "g"},
    ),
    "put in and come out": Case(
        PAIR, {"mass|oxide": "2.50 g", "mass|acid": "4.10 g", "mass|salt|auxiliaries": "55.2 g",
               "mass|salt|actual": "3.85 g"},
        {"atom_economy|salt": "%", "e_factor|salt": "1", "mass_intensity|salt": "1"},
    ),
    "share from a ratio": Case(
        PAIR, {"product_ratio|salt": "4.88 1", "mass|salt|isomers": "4.21 g"},
        {"share|salt|other": "%", "mass|salt|actual": "g", "mass|salt|other": "g"},
    ),
    "isomers": Case(
        PAIR, {"mass|oxide": "2.50 g", "peak_area|salt": "8120 1", "peak_area|salt|other": "1540 1",
               "mass|salt|isomers": "4.21 g"},
        {"share|salt": "%", "mass|salt|actual": "g", "percent_yield|salt|isomers": "%", "percent_yield|salt": "%"},
    ),
    "selectivity": Case(
        PAIR, {"mass|oxide": "2.50 g", "mass|oxide|recovered": "0.525 g", "mass|salt|actual": "3.33 g"},
        {"conversion|oxide": "%", "selectivity|salt": "%"},
    ),
    "two layers": Case(
        (species("ethanol"),),
        {"mass|ethanol": "2.50 g", "mass|ethanol|aqueous": "450 mg", "volume|ethanol|aqueous": "50.0 mL",
         "volume|ethanol|organic": "0.0250 L"},
        {"distribution_ratio|ethanol": "1"},
    ),
    "portions": Case(
        (species("ethanol"),),
        {"mass|ethanol": "2.50 g", "volume|ethanol|aqueous": "50.0 mL", "volume|ethanol|organic": "0.0450 L",
         "distribution_ratio|ethanol": "3.15 1"},
        {"mass|ethanol|after_one": "g", "mass|ethanol|by_three": "mg", "fraction_extracted|ethanol|by_three": "%"},
    ),
    "purified": Case(
        PAIR, {"mass|oxide": "2.50 g", "mass|salt|crude": "4.50 g", "mass|salt|purified": "4010 mg",
               "mass|salt|pure": "3.55 g"},
        {"recovery|salt|first": "%", "mass|salt|lost": "g", "percent_yield|salt": "%"},
    ),
    "purified twice": Case(
        (species("salt"),), {"recovery|salt|first": "85.0 %", "recovery|salt|second": "0.92 1"},
        {"recovery|salt": "%"},
    ),
    "Karl Fischer": Case(
        (species("water"), Species("reagent", "reagent")),
        {"mass|water|standardising": "31.5 mg", "volume|reagent|standardising": "6.25 mL",
         "volume|reagent|with_sample": "5.15 mL", "volume|reagent|blank": "0.35 mL", "mass||sample": "2.455 g"},
        {"water_equivalent|reagent": "mg/mL", "mass|water": "mg", "mass_fraction|water": "%"},
    ),
    "hard water": Case(
        (species("oxide"),), {"mass|oxide": "21.5 mg", "volume|oxide|solution": "0.1000 L"},
        {"hardness|oxide": "mg/L"},
    ),
    "recrystallised": Case(
        (species("salt"),), {"mass|salt|crude": "4.05 g", "solubility|salt|hot": "6.15 g/dL",
                             "solubility|salt|cold": "8.2 mg/mL"},
        {"volume|salt|solvent": "mL", "mass|salt|lost": "mg", "mass|salt|pure": "g", "recovery|salt": "%"},
    ),
    "spots": Case(
        (species("ethanol"),),
        {"distance|ethanol|edge": "45.5 mm", "distance|ethanol|front_edge": "7.80 cm",
         "distance|ethanol|start": "9.0 mm"},
        {"retention_factor|ethanol": "1"},
    ),
    "polarimeter": Case(
        (species("ethanol"),),
        {"rotation|ethanol": "2.31 °", "path_length|ethanol": "10.0 cm", "mass_concentration|ethanol": "0.0625 g/mL",
         "specific_rotation|ethanol|pure": "43.5 deg mL/(g dm)"},
        {"enantiomeric_excess|ethanol": "%", "share|ethanol|major": "%", "share|ethanol|minor": "%"},
    ),
    "both enantiomers": Case(
        (species("ethanol"),), {"amount|ethanol|major": "2.31 mmol", "amount|ethanol|minor": "0.42 mmol"},
        {"enantiomeric_excess|ethanol": "%"},
    ),
    "absorbance": Case(
        (species("blue"),), {"molar_absorption|blue": "12.15 L/(mol cm)", "path_length|blue": "20.0 mm",
                             "absorbance|blue|step_one": "0.512", "volume|blue|aliquot": "10.00 mL",
                             "volume|blue|flask": "0.100 L"},
        {"concentration|blue|step_one": "mmol/L", "concentration|blue|initial": "mol/L"},
    ),
    "standard curve": Case(
        (species("blue"),),
        {**{f"concentration|blue|standard_{n}": f"{c} mmol/L" for n, c in (("one", "5.02"), ("two", "10.12"),
                                                                            ("three", "15.11"))},
         **{f"absorbance|blue|standard_{n}": a for n, a in (("one", "0.1652"), ("two", "0.2880"), ("three", "0.4029"))},
         "path_length|blue": "2.00 cm", "absorbance|blue": "0.355", "volume|blue|solution": "25.0 mL"},
        {"slope|blue": "L/mol", "intercept|blue": "1", "molar_absorption|blue": "L/(mol cm)", "amount|blue": "mmol"},
    ),
    "solute in solvent": Case(
        (species("ethanol"), species("water")), {"mass|ethanol": "12.5 g", "volume|ethanol|solvent": "85.0 mL",
                                                 "density|water": "0.998 g/mL"},
        {"mole_fraction|ethanol": "1", "mole_fraction|water": "1", "molality|ethanol": "mol/kg"}, "water",
    ),
    "contents from percent": Case(
        (species("acid"), species("water")), {"mass_fraction|acid": "32.5 %", "density|acid|solution": "1.16 g/mL"},
        {"molality|acid": "mol/kg", "mole_fraction|acid": "1", "concentration|acid": "mol/L"}, "water",
    ),
    "contents from molality": Case(
        (species("acid"), species("water")), {"molality|acid": "2.50 mol/kg"},
        {"mass_fraction|acid": "%", "mole_fraction|water": "1"}, "water",
    ),
    "contents from mole fraction": Case(
        (species("acid"), species("water")), {"mole_fraction|acid": "0.125"}, {"molality|acid": "mol/kg"}, "water",
    ),
    "contents from concentration": Case(
        (species("acid"), species("water")), {"concentration|acid": "4.25 mol/L", "density|acid|solution": "1.07 g/mL"},
        {"molality|acid": "mmol/g"}, "water",
    ),
    "mixture": Case(
        (species("ethanol"), species("water")), {"mass|ethanol": "23.5 g", "mass|water": "40.0 g"},
        {"mole_fraction|ethanol": "1"},
    ),
    "percent by volume": Case(
        (species("ethanol"),), {"volume_fraction|ethanol": "38.5 %", "volume|ethanol|solution": "0.700 L",
                                "density|ethanol": "0.789 g/mL"},
        {"volume|ethanol": "mL", "mass|ethanol": "g"},
    ),
    "percent by volume, asked": Case(
        (species("ethanol"),), {"volume|ethanol": "35.5 mL", "volume|ethanol|solution": "120.0 mL"},
        {"volume_fraction|ethanol": "%"},
    ),
    "grams in 100 mL": Case(
        (LONE,), {"mass_volume_percent|acid": "0.905 g/dL", "volume|acid|solution": "250.0 mL"},
        {"mass|acid": "g", "concentration|acid": "mM"},
    ),
    "traces in water": Case(
        (species("iron"),), {"trace_fraction|iron": "12.5 ppm", "volume|iron|solution": "2.50 L"},
        {"mass|iron": "mg", "concentration|iron": "µmol/L"},
    ),
    "traces in water, asked": Case(
        (species("iron"),), {"mass|iron": "1.25 mg", "volume|iron|solution": "500.0 mL"},
        {"trace_fraction|iron": "ppb"},
    ),
    "burette readings": Case(
        TITRATED,
        {"volume|base|rough_start": "0.00 mL", "volume|base|rough_end": "21.10 mL", "volume|base|start_one": "0.35 mL",
         "volume|base|end_one": "20.60 mL", "volume|base|start_two": "1.20 mL", "volume|base|end_two": "21.40 mL",
         "concentration|base": "0.1015 M"},
        {"volume|base|run_one": "mL", "volume|base|solution": "mL", "amount|acid|left": "mmol"},
        further=(NEUTRALISED,), in_excess=("acid",),
    ),
    "aliquot": Case(
        (species("white"),), {"mass|white|flask": "1.596 g", "volume|white|flask": "250.0 mL",
                              "volume|white|aliquot": "25.00 mL"},
        {"amount|white": "mmol", "concentration|white": "M"},
    ),
    "aliquot, back to the sample": Case(
        (species("white"),), {"amount|white": "0.985 mmol", "volume|white|flask": "250.0 mL",
                              "volume|white|aliquot": "25.00 mL", "mass|white|impure": "1.750 g"},
        {"mass|white|flask": "g", "mass_fraction|white": "%"},
    ),
    "serial dilution": Case(
        (LONE,), {"concentration|acid|initial": "0.1050 M", "volume|acid|aliquot": "10.00 mL",
                  "volume|acid|flask": "100.0 mL"},
        {"concentration|acid|step_two": "mM", "concentration|acid|step_three": "µmol/L"},
    ),
    "percent composition": Case(
        (species("salt"), species("element")), {"mass|salt": "4.55 g"},
        {"mass_fraction|element": "%", "mass|element": "g"},
    ),
    "parts of a sample": Case(
        AIR, {"mass||sample": "12.05 g", "mass|nitrogen": "8.95 g", "mass|oxygen": "2.850 g"},
        {"mass_fraction|nitrogen": "%", "mass_fraction|oxygen": "%"},
    ),
    "servings": Case(
        (species("ethanol"),), {"amount|ethanol": "2.50 mol", "mass|ethanol|serving": "12.5 g"},
        {"portions|ethanol": "1", "amount|ethanol|serving": "mmol"},
    ),
    "two steps with their yields": Case(
        IN_STEPS, {"mass|oxide": "3.20 g", "mass|salt|actual": "5.05 g", "mass|iron|actual": "1.52 g"},
        {"percent_yield|salt": "%", "percent_yield|iron|overall": "%"},
        further=(REDUCED,), in_excess=("acid", "hydrogen"), product="salt",
    ),
    "two steps, the other reagent limits": Case(
        IN_STEPS, {"mass|salt|actual": "5.05 g", "amount|hydrogen": "31.5 mmol"}, {"mass|iron|theoretical": "g"},
        further=(REDUCED,), product="salt",
    ),
    "titrated back, with a blank": Case(
        TITRATED, {"volume|base|blank": "44.50 mL", "volume|base|with_sample": "13.25 mL",
                   "concentration|base": "0.1015 M"},
        {"volume|base|net": "mL", "mass|oxide": "mg"}, further=(NEUTRALISED,), in_excess=("acid",),
    ),
    "total and residual base": Case(
        (species("base", -1), species("acid", -1), species("table", 1), species("water", 1)),
        {"volume|acid|total_base": "17.25 mL", "volume|acid|residual_base": "1.20 mL", "concentration|acid": "0.1015 M",
         "volume|base|solution": "2.00 mL"},
        {"volume|acid|net": "mL", "amount|base": "mmol", "concentration|base": "M"},
    ),
    "titrated back": Case(
        TITRATED, {"amount|acid": "12.55 mmol", "amount|base": "4.055 mmol"}, {"mass|oxide": "mg"},
        further=(NEUTRALISED,), in_excess=("acid",),
    ),
    "two carbonates by acid": Case(
        TWO, {"mass||sample": "0.5150 g", "amount|acid": "8.125 mmol"}, {"mass|soda": "g", "mass|baking": "g"},
        further=(BESIDE,),
    ),
    "two carbonates by acid, the other share": Case(
        TWO, {"mass||sample": "0.5150 g", "amount|acid": "8.125 mmol"}, {"mass_fraction|baking": "%"},
        further=(BESIDE,),
    ),
    "two carbonates by loss": Case(
        TWO, {"mass||sample": "0.5150 g", "mass||heated": "0.2855 g"}, {"mass|soda": "g"},
        further=(BESIDE,), driven_off=("gas",),
    ),
    "loss of one reaction": Case(
        (species("baking", -2), species("soda", 1), species("water", 1), species("gas", 1)),
        {"mass||sample": "2.512 g", "mass||heated": "1.955 g"}, {"mass||driven_off": "g", "mass|baking": "g"},
        driven_off=("gas", "water"),
    ),
    "waters of a hydrate": Case(
        (species("white"), species("water")), {"mass||sample": "2.512 g", "mass||heated": "1.606 g"},
        {"crystal_water|white": "1"},
    ),
    **PAIR_CASES,
    "an unknown by percent": Case(
        (*ELEMENTS, Species("compound", "the compound")),
        {"mass_fraction|C": "63.15 %", "mass_fraction|H": "5.30 %", "molar_mass|compound": "152.1 g/mol"},
        {"molar_mass|compound|empirical": "g/mol", "molar_mass|compound|molecular": "g/mol"},
        unknown=("C", "H", "O"), rest="O",
    ),
    "at named conditions": Case(
        (species("gas"),), {"volume|gas": "2.50 L", "molar_volume|gas": "22.711 L/mol"}, {"amount|gas": "mol"},
    ),
    "given and asked": Case((LONE,), {"mass|acid": "2.50 g"}, {"mass|acid": "mg", "amount|acid": "mol"}),
}  # fmt: skip
