"""How each statistic of the report on a class is calculated, read, and where it comes from: cited from memory."""

from __future__ import annotations

from collections.abc import Iterable

from problemgen.language.messages import N_, _
from problemgen.model.class_statistics import LEAST_FOR_GROUPS, LEAST_FOR_SPREAD

__all__ = [
    "ABOUT_ALPHA",
    "ABOUT_DIFFICULTY",
    "ABOUT_DISCRIMINATION",
    "ABOUT_GROUPS",
    "ABOUT_MISTAKES",
    "ABOUT_SCORES",
    "ABOUT_TRENDS",
    "CLOSING",
    "NOTICE",
    "defined",
]

NOTICE = N_("For the instructor alone: names and answers of students.")

CLOSING = N_(
    "The publications are cited from memory: check them before you quote them. A statistic is a reason to look, not a "
    "finding: the papers decide."
)

ABOUT_SCORES = (
    (
        N_("Score"),
        N_("The points that a student earned, divided by the points to be had. A part without an answer earns none."),
    ),
    (
        N_("Median and quartiles"),
        N_(
            "The scores that a half, a quarter and three quarters of the class do not exceed; between two scores by "
            "straight interpolation (definition 7 of Hyndman and Fan, The American Statistician 50 (1996) 361)."
        ),
    ),
    (
        N_("Standard deviation"),
        N_(
            "The square root of the sum of the squared distances from the mean, divided by the number of students "
            "less one (the sample standard deviation of ISO 3534-1)."
        ),
    ),
)

ABOUT_DIFFICULTY = (
    (
        N_("Mean share"),
        N_(
            "The mean of the students’ shares of the points of a part: 0 where nobody earned any, 1 where all earned"
            " all. Test theory calls it the difficulty of an item, though an easy part has a high one (Lord and "
            "Novick, Statistical Theories of Mental Test Scores, 1968)."
        ),
    ),
)

ABOUT_DISCRIMINATION = (
    (
        N_("Item–rest correlation"),
        N_(
            "Pearson’s correlation between the share of points of a part and the share of the points of all other "
            "parts. The part itself is left out of the rest, since it would correlate with itself (Henrysson, "
            "Psychometrika 28 (1963) 211). From −1 to 1."
        ),
    ),
    (
        N_("Upper group less lower"),
        N_(
            "The mean share of points among the 27 % of students with the highest scores, less that among the 27 % "
            "with the lowest (Johnson, Journal of Educational Psychology 42 (1951) 499; that 27 % tells most: "
            "Kelley, Journal of Educational Psychology 30 (1939) 17). Students with the same score at the border of "
            "a group count in it with equal fractions."
        ),
    ),
    (
        N_("How to read them"),
        N_(
            "From 0.2 on a part is usually called satisfactory, from 0.4 on very good (Ebel, Measuring Educational "
            "Achievement, 1965). Very easy and very hard parts cannot reach much. Below 0, those who do well "
            "otherwise lose the part: look at its wording and its key."
        ),
    ),
)

ABOUT_ALPHA = (
    (
        N_("Cronbach’s alpha"),
        N_(
            "k/(k − 1) · (1 − sum of the variances of the items / variance of their sum), for k items: how far the "
            "items measure the same thing, 1 at most (Cronbach, Psychometrika 16 (1951) 297)."
        ),
    ),
    (
        N_("95 % interval"),
        N_(
            "From (1 − α)/(1 − α̂), which follows the F distribution with n − 1 and (n − 1)(k − 1) degrees of "
            "freedom for n students (Feldt, Psychometrika 30 (1965) 357)."
        ),
    ),
    (
        N_("Parts and problems"),
        N_(
            "Parts of one problem rest on the same data and on each other, so alpha over the parts is too high; over"
            " whole problems it is nearer to the truth (Sireci, Thissen and Wainer, Journal of Educational "
            "Measurement 28 (1991) 237). Where students have different templates, the problem as a whole is an item; a "
            "problem that not everybody has is none."
        ),
    ),
    (
        N_("If left out"),
        N_(
            "Alpha of the other items. Where it is higher than alpha, the item measures something else than the "
            "others do."
        ),
    ),
)

ABOUT_MISTAKES = (
    (
        N_("Counted"),
        N_(
            "Answers in which the marking recognises a usual mistake, a slip, or rounding too early. An answer that "
            "two mistakes explain equally well, or that needs both, counts under each."
        ),
    ),
)

ABOUT_GROUPS = (
    (
        N_("What is compared"),
        N_(
            "The shares of points of students whose variants differ in kind: in the template, or in the reagent or "
            "formula that is right. Groups of fewer than {groups} students are left out."
        ),
    ),
    (
        N_("H and p"),
        N_(
            "The test by ranks of Kruskal and Wallis (Journal of the American Statistical Association 47 (1952) "
            "583), with its correction for ties; p from the chi-squared distribution: how often chance alone would "
            "bring about as much of a difference."
        ),
    ),
    (
        N_("Adjusted p"),
        N_(
            "Among many comparisons some differ by chance. The adjusted p takes their number into account (Holm, "
            "Scandinavian Journal of Statistics 6 (1979) 65). Below 0.05 a row is marked “differs”."
        ),
    ),
    (
        "ε²",
        N_(
            "H/(n − 1) for n students: the share of the spread of ranks that lies between the groups, from 0 to 1 "
            "(Tomczak and Tomczak, Trends in Sport Sciences 21 (2014) 19). Below 0.01 a difference is of no account;"
            " from 0.06 on it matters; from 0.14 on it is large (Cohen, Statistical Power Analysis for the "
            "Behavioral Sciences, 2nd ed., 1988, for the like η²)."
        ),
    ),
)

ABOUT_TRENDS = (
    (
        N_("Rank correlation"),
        N_(
            "Spearman’s correlation (The American Journal of Psychology 15 (1904) 72) between the number that is "
            "right for a student’s variant and the share of points that the student earned; p from Student’s t. "
            "Above 0, larger numbers were easier. Of parts with the same answer, or the same share, for all there is"
            " none. It is given from {spread} students on."
        ),
    ),
)


def defined(items: Iterable[tuple[str, str]]) -> tuple[tuple[str, str], ...]:
    """Terms with their words, as they are said."""
    numbers = {"groups": LEAST_FOR_GROUPS, "spread": LEAST_FOR_SPREAD}
    return tuple((_(term), _(text).format(**numbers)) for term, text in items)
