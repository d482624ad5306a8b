"""Invented people: the names of the shipped rosters, put together from parts that are made up.

python tests/support/invented_names.py        gives every shipped roster its names anew; ids and sections stay

No part is a person's, as far as its makers know; a real name that looks like one of them is a coincidence.
"""

from __future__ import annotations

import csv
import io
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from tests.support.handwriting import drawn  # noqa: E402 - the checkout's own packages come first

__all__ = ["AWKWARD", "FAMILY", "GIVEN", "names_of", "plain_name", "roster_files", "roster_text"]

GIVEN = (
    *("Alvane", "Breska", "Cindrel", "Dovrin", "Elspra", "Fennick", "Gwerith", "Hestral", "Ilmord", "Jorvet"),
    *("Kelmina", "Lusenne", "Mirrel", "Nolbeth", "Ostrane", "Pellim", "Quenna", "Rovette", "Sandrel", "Tavvi"),
    *("Ulmira", "Verrin", "Wystra", "Xandry", "Yolmer", "Zephra", "Ambrel", "Bostrel", "Corvane", "Délune"),
    *("Évoria", "Iñelda", "Sönna", "Tæren", "Øyvara", "Čelma", "Żelmir", "Aşlenur", "Mbavula", "Nkesanu"),
)
FAMILY = (
    *("Harrowmead", "Thistlecombe", "Ravensgill", "Quillhaven", "Marlstrand", "Fenwhistle", "Coppervale", "Saltmarrow"),
    *("Birchlantern", "Winterlock", "Ombermoor", "Larkspindle", "Tallowby", "Bramblecourt", "Silverhythe", "Mossgarth"),
    *("Glimmerdahl", "Kestrelholm", "Sandövik", "Lindmyr", "Vasquenor", "Kowalbrod", "Okondare", "Tanabori"),
    *("Eriksholt", "Petrovane", "Yelmazar", "Ferreiromar", "Chaudravi", "Bellamarin", "Oseidunga", "Mbekwane"),
    *("Dunstrope", "Halvernby", "O'Fallowind", "Castelbruna", "Zielonkar", "Rosenquill", "Draymoor-Lund", "Marl-Tarn"),
)

AWKWARD: Mapping[str, Mapping[str, str]] = {
    "first-week": {
        "s001": "Zoëlle Brandmyr-Halvorne",
        "s003": "ლურინე ქვარდოშვილი",
        "s006": "Þyrný Skarphólsdóttir",
        "s009": "#Rovik Tagmoor",
        "s012": "Велмира Дождегорова",
        "s017": "น้ำค้าง ฟ้าหลังฝนทอง",
        "s020": "Ñandira Quilpumar",
        "s023": "苔ヶ原 しずの",
        "s026": "Lữ Thềm Ngọc Rạng",
        "s028": "@Leshan Attermoor",
        "s031": "Lohemana Kaʻiholu",
        "s034": "Sølvar Åskemyr",
        "s037": "檀霧桐",
        "s040": "D’Ervaux Fontelune",
        "s042": "-Inorel Dashmere",
        "s045": "Mārdiņš Ķērpjkalns",
        "s048": "Maxilienne Theodelinde Featherquillhaugh-Wolkenbruck-Abendmoor",
        "s051": "سهيدة الغيّام",
        "s056": "Merrel  Ina van der Plashoek",  # two spaces, as they come from forms
        "s059": "Győrke Szentőzváry",
        "s062": "=Adrel Sommerquist",
        "s065": "טלורה בן־ערפל",
        "s070": "Լուսվարդ Ծիրանաձորեան",
        "s073": "Anorel-Lise Petitbosque",
        "s076": "빙여울솔",
        "s079": "Μυρσαλία Ανεμοπέτρου",
        "s084": "मेघविता जलशिखरकर",
        "s087": "İlbige Yıldızgöloğlu",
        "s090": "仉梅渺",
        "s093": "Łubomiar Żdźbłowiec",
        "s095": "+Padra Plusmere",
        "s098": "Čestmira Říčkolesá",
        "s101": "Castellume, Jr., Tobrian",  # a comma, so that its cell needs quotes
        "s104": "سامود أبو الضباب",
        "s107": "Siâran Ap Gwerndal",
        "s109": "Xochilma de la Bruma y Sal",
        "s112": "Ștefirica Bârsăluțoaia",
        "s115": "Wiranggasela",  # one word
        "s118": "עידרון אלגשם",
    }
}
"""By set and id, names that a table, a sheet or a page could get wrong: other scripts and directions, marks that a
spreadsheet takes for a formula, apostrophes of three kinds, one word, very many letters."""


def plain_name(place: int) -> str:
    """A given and a family part; places from 0 to 1599 give different names."""
    shifted = place // len(GIVEN) + 7 * place  # 7 shares no factor with 40: neighbours get families far apart
    return f"{GIVEN[place % len(GIVEN)]} {FAMILY[shifted % len(FAMILY)]}"


def names_of(set_id: str, students: Sequence[str]) -> dict[str, str]:
    """The name of each student of a set, by id."""
    start = drawn(len(GIVEN) * len(FAMILY), "names", set_id)
    awkward = AWKWARD.get(set_id, {})
    return {student: awkward.get(student, plain_name(start + index)) for index, student in enumerate(students)}


def roster_files() -> list[Path]:
    """The rosters of the shipped sets."""
    return sorted((ROOT / "templates" / "sets").glob("*/roster.csv"))


def roster_text(roster: Path) -> str:
    """A roster with its ids and sections, and the names that they are to have."""
    with roster.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    names = names_of(roster.parent.name, [row["id"] for row in rows])
    text = io.StringIO()
    table = csv.writer(text, lineterminator="\n")
    table.writerow(("id", "name", "section"))
    table.writerows((row["id"], names[row["id"]], row["section"]) for row in rows)
    return text.getvalue()


if __name__ == "__main__":
    for path in roster_files():
        path.write_text(roster_text(path), encoding="utf-8", newline="")
