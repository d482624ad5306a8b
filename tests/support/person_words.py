"""Fixed cells with words in them: labels, notes and second thoughts. Common practice, no source."""

from __future__ import annotations

from tests.support.person_cells import Family, asks, reads

__all__ = ["WORDS"]

WORDS: tuple[Family, ...] = (
    Family(
        "unit in a word before",
        (
            *reads(
                "39.5 mmol", "mmol = 39.5", "millimoles: 39.5", "mmol of NaOH = 39.5", "mmol NaOH: 39.5", "mmol 39.5"
            ),
            *reads("0.0395 mol", "mol = 0.0395", "mol NaOH = 0.0395", "mol: 0.0395", "mol of NaOH: 0.0395"),
            *reads("0.0395 mol", "moles = 0.0395", "moles of NaOH = 0.0395", "moles NaOH: 0.0395", "Moles: 0.0395"),
            *reads("1.58 g", "g = 1.58", "grams = 1.58", "grams of NaOH: 1.58", "g NaOH: 1.58", "mass in grams: 1.58"),
            *reads("39.5 mL", "mL = 39.5", "ml: 39.5", "mL of water: 39.5", "milliliters: 39.5"),
            *reads(
                "82.3 %", "% = 82.3", "% 82.3", "percent: 82.3", "% yield = 82.3", "percent yield: 82.3", "% yield 82.3"
            ),
        ),
        tolerated="a label that is a unit's word: to ask is safe, to pass the unit over is not",
    ),
    Family(
        "unit in a label, another way",
        (
            *reads(
                "0.0395 mol",
                "n in moles = 0.0395",
                "amount (moles): 0.0395",
                "n(NaOH) (mol) = 0.0395",
                "n (in mol): 0.0395",
            ),
            *reads(
                "0.0395 mol", "n(NaOH) in mol: 0.0395", "n_NaOH/mol: 0.0395", "n(NaOH), mol = 0.0395", "n/mol: 0.0395"
            ),
            *reads("1.58 g", "m(NaOH)/g: 1.58", "m(NaOH) [g] = 1.58", "mass of NaOH (g) = 1.58", "mass / g: 1.58"),
            *reads("0.00158 kg", "mass in kg: 0.00158", "in kilograms: 0.00158", "m in kilograms = 0.00158"),
            *reads("0.395 mol/L", "c/M = 0.395", "c (mol L⁻¹): 0.395", "[NaOH] (M) = 0.395", "conc. (mol/L): 0.395"),
            *reads("25.0 °C", "T (°C): 25.0", "T/°C = 25.0", "temperature in °C: 25.0"),
            *reads("1.05 g/mL", "ρ/(g/mL) = 1.05", "ρ / g cm⁻³ = 1.05", "density (g/mL): 1.05", "d in g/cm3: 1.05"),
        ),
    ),
    Family(
        "symbol that looks like a unit",
        (
            *reads("1.58", "m = 1.58", "m: 1.58", asked="g"),
            *reads("1.58 g", "m = 1.58 g"),
            *reads("40.0 g/mol", "M = 40.0 g/mol", "M(NaOH) = 40.0 g/mol", "M: 40.0 g/mol"),
            *reads("40.0", "M = 40.0", "M(NaOH) = 40.0", asked="g/mol"),
            *reads("39.5 mL", "V = 39.5 mL", "V(NaOH) = 39.5 mL", "V1 = 39.5 mL", "V2: 39.5 mL"),
            *reads("298 K", "T = 298 K", "T: 298 K"),
            *reads("0.395 mol/L", "c = 0.395 M", "[NaOH] = 0.395 M", "c(NaOH) = 0.395 mol/L", "C = 0.395 M"),
            *reads("39.5 g", "(g) 39.5"),  # no sheet has a part (g) asked in its own cell without a column of its own
            *reads("39.5", "A: 39.5", "c = 39.5", "C) 39.5", "g) 39.5", "m) 39.5", "l) 39.5"),
        ),
    ),
    Family(
        "label that relates two things",
        asks(
            *("n minus m = 39.5", "n + m = 39.5", "n × m = 39.5", "n·2 = 39.5", "n/n0 = 39.5", "n(Cl) : n(Na) = 39.5"),
            *(
                "n:m = 39.5",
                "ratio: 39.5 mmol",
                "sqrt(n) = 39.5",
                "1/n: 39.5 mmol",
                "n or m: 39.5 mmol",
            ),
            *(
                "minus n = 39.5 mmol",
                "n and m = 39.5 mmol",
                "n(a) - n(b) = 39.5 mmol",
                "n per m: 39.5",
            ),
            *(
                "negative: 39.5 mmol",
                "minus: 39.5",
                "I got half: 39.5 mmol",
                "approx half: 39.5 mmol",
                "squared: 39.5 mmol",
            ),
            *(
                "uncertainty = 39.5 mmol",
                "% error = 39.5",
                "rounding error: 39.5",
                "error in n: 39.5 mmol",
                "sd: 39.5 mmol",
            ),
            *(
                "upper limit: 39.5 mmol",
                "minimum: 39.5 mmol",
                "at least: 39.5 mmol",
                "n/g: 39.5 mmol",
            ),
            *(
                "not the answer: 39.5 mmol",
                "wrong answer: 39.5 mmol",
                "n (wrong) = 39.5 mmol",
                "n without NaOH ≠ 39.5 mmol",
            ),
        ),
    ),
    Family(
        "label behind the number",
        (
            *reads("39.5 mmol", "39.5 mmol = n", "39.5 mmol = n(NaOH)", "39.5 mmol = the amount"),
            *reads("0.0395 mol", "0.0395 = n/mol", "0.0395 = n in mol", "0.0395 = moles", "0.0395 mol = n/mol"),
            *asks("39.5 mol = n/mmol", "39.5 mmol = n/2", "39.5 = 2n", "39.5 mmol = half", "39.5 mmol = half of n"),
            *asks("39.5 mmol = n²", "39.5 mmol = -n", "39.5 mmol = n + m", "39.5 mmol = n in mol", "39.5 mmol = wrong"),
        ),
        tolerated="few write the label last: to ask is safe",
    ),
    Family(
        "word in brackets that changes the meaning",
        asks(
            *("39.5 mmol (half)", "39.5 mmol (not)", "39.5 mmol (negative)", "39.5 mmol (each)", "39.5 mmol (x2)"),
            *(
                "39.5 mmol (thousand)",
                "39.5 mmol (wrong)",
                "39.5 mmol (per mL)",
                "39.5 mmol (squared)",
                "39.5 mmol (kilo)",
            ),
            *(
                "39.5 mmol (at least)",
                "39.5 mmol [per tube]",
                "39.5 mmol (doubled)",
                "39.5 (thousand)",
            ),
        ),
    ),
    Family(
        "word behind the substance that changes the meaning",
        asks(
            *("39.5 mmol NaOH per mL", "39.5 mmol of NaOH squared", "39.5 mmol NaOH each", "39.5 mmol of NaOH halved"),
            *("39.5 mmol of half", "39.5 mmol of error", "39.5 mmol of NaOH negative", "39.5 mmol of NaOH is wrong"),
            *(
                "39.5 mmol of NaOH or forty",
                "39.5 mmol NaOH maybe forty",
                "39.5 mmol NaOH thousand",
                "39.5 mmol NaOH at most",
            ),
            *(
                "39.5 moles per liter million",
                "39.5 mmol of NaOH per tube",
                "39.5 mmol NaOH in mol",
                "39.5 mmol NaOH minus two",
            ),
        ),
    ),
    Family(
        "number in a word behind",
        asks(
            *("39.5 mmol forty", "39.5 mmol two", "39.5 mmol zero", "39.5 mmol (forty)", "39.5 mmol or forty-five"),
            *(
                "39.5 mmol, forty",
                "39.5 mmol ten",
                "39.5 mmol and two",
                "39.5 mmol to forty",
                "39.5 mmol once or twice",
            ),
            *(
                "39.5 mmol more",
                "39.5 mmol less",
                "39.5 mmol too few",
                "39.5 mmol fewer",
                "39.5 mmol above",
                "39.5 mmol below",
            ),
        ),
    ),
    Family(
        "words that make a unit another",
        (
            *reads("39.5 mol/L", "39.5 mmol per mL", "39.5 mmol/mL", asked="mmol"),
            *reads("39.5 mol/kg", "39.5 mmol per g", "39.5 mmol/g", "39.5 mmol per gram"),
            *reads("39.5 mmol/h", "39.5 mmol per hour", "39.5 mmol/h"),
            *asks("39.5 mmol %", "39.5 mmol percent", "39.5 % of 2 mol", "39.5 mmol per", "39.5 mmol million"),
            *asks("39.5 mmol per tube of 2 mL", "39.5 mmol a day", "39.5 mmol per cent", "39.5 mmol per dozen"),
        ),
        tolerated="another unit than the one asked for: to ask is safe, to pass over a part of it is not",
    ),
    Family(
        "words that qualify",
        (
            *reads("1.58 g", "m 1.58 g", "mass 1.58 g", "mass is 1.58 g", "m is 1.58 g"),
            *reads(
                "39.5 mmol",
                "39.5 mmol (by titration)",
                "39.5 mmol, I think",
                "39.5 mmol at 25 °C",
                "39.5 mmol (theory)",
            ),
            *reads(
                "39.5 mmol", "39.5 mmol in excess", "I think 39.5 mmol", "39.5 mmol (see p. 2)", "39.5 mmol (from 1a)"
            ),
            *reads(
                "39.5 mmol", "39.5 mmol or so", "39.5 mmol, more or less", "39.5 mmol of 2-propanol", "39.5 mmol final"
            ),
            *reads(
                "39.5 mmol",
                "final answer: 39.5 mmol",
                "39.5 mmol (2 d.p.)",
                "39.5 mmol NaOH (aq)",
                "39.5 mmol of 1 M NaOH",
            ),
        ),
        tolerated="a note in free words: to ask is safe",
    ),
    Family(
        "words against the number",
        asks(
            *(
                "not 39.5 mmol",
                "39.5 mmol is wrong",
                "no idea, 39.5 mmol?",
                "39.5 mmol (crossed out)",
                "wrong: 39.5 mmol",
            ),
            *(
                "anything but 39.5 mmol",
                "39.5 mmol?? or less",
                "39.5 mmol too little",
                "39.5 mmol off",
                "error: 39.5 mmol",
            ),
            *("never 39.5 mmol", "the opposite of 39.5 mmol", "39.5 mmol short of 2 mol", "negative of 39.5 mmol"),
            *(
                "square of 39.5 mmol",
                "one over 39.5 mmol",
                "39.5 mmol inverted",
                "sum of 39.5 mmol",
                "39.5 mmol or none",
            ),
            *(
                "39.5 mmol every hour",
                "39.5 mmol from each",
                "three lots of 39.5 mmol",
                "39.5 mmol twice",
                "39.5 mmol thrice",
            ),
            *(
                "39.5 mmol half",
                "39.5 mmol and a bit",
                "39.5 mmol a third",
                "quarter of 39.5 mmol",
                "39.5 mmol tenfold",
            ),
            *("n isn't 39.5 mmol", "n is not 39.5 mmol", "n = not 39.5 mmol", "except 39.5 mmol", "39.5 mmol excluded"),
            *(
                "a tenth of 39.5 mmol",
                "39.5 mmol over 2",
                "39.5 mmol by 2",
                "39.5 mmol with sign changed",
                "ten 39.5 mmol",
            ),
        ),
    ),
    Family(
        "no number",
        asks("", "?", "mmol", "n = ", "n = mmol", "none", "n/a", "-", "–", "…", "idk", "see sheet", "#DIV/0!"),
    ),
)
