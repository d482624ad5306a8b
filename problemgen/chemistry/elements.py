"""The 118 elements: the only source of symbols.

Names in IUPAC spelling (aluminium, caesium, sulfur); source: IUPAC Periodic Table of the Elements,
4 May 2022.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

__all__ = ["ELEMENTS"]

_TABLE = """
H hydrogen       He helium        Li lithium       Be beryllium     B boron          C carbon
N nitrogen       O oxygen         F fluorine       Ne neon          Na sodium        Mg magnesium
Al aluminium     Si silicon       P phosphorus     S sulfur         Cl chlorine      Ar argon
K potassium      Ca calcium       Sc scandium      Ti titanium      V vanadium       Cr chromium
Mn manganese     Fe iron          Co cobalt        Ni nickel        Cu copper        Zn zinc
Ga gallium       Ge germanium     As arsenic       Se selenium      Br bromine       Kr krypton
Rb rubidium      Sr strontium     Y yttrium        Zr zirconium     Nb niobium       Mo molybdenum
Tc technetium    Ru ruthenium     Rh rhodium       Pd palladium     Ag silver        Cd cadmium
In indium        Sn tin           Sb antimony      Te tellurium     I iodine         Xe xenon
Cs caesium       Ba barium        La lanthanum     Ce cerium        Pr praseodymium  Nd neodymium
Pm promethium    Sm samarium      Eu europium      Gd gadolinium    Tb terbium       Dy dysprosium
Ho holmium       Er erbium        Tm thulium       Yb ytterbium     Lu lutetium      Hf hafnium
Ta tantalum      W tungsten       Re rhenium       Os osmium        Ir iridium       Pt platinum
Au gold          Hg mercury       Tl thallium      Pb lead          Bi bismuth       Po polonium
At astatine      Rn radon         Fr francium      Ra radium        Ac actinium      Th thorium
Pa protactinium  U uranium        Np neptunium     Pu plutonium     Am americium     Cm curium
Bk berkelium     Cf californium   Es einsteinium   Fm fermium       Md mendelevium   No nobelium
Lr lawrencium    Rf rutherfordium Db dubnium       Sg seaborgium    Bh bohrium       Hs hassium
Mt meitnerium    Ds darmstadtium  Rg roentgenium   Cn copernicium   Nh nihonium      Fl flerovium
Mc moscovium     Lv livermorium   Ts tennessine    Og oganesson
"""

_WORDS = _TABLE.split()

ELEMENTS: Mapping[str, str] = MappingProxyType(dict(zip(_WORDS[::2], _WORDS[1::2], strict=True)))
"""Symbol to name, in order of atomic number."""
