"""The words that may stand beside a number and its unit. All are listed: a word that is not changes what is said.

words     = word+                 each one listed, a formula, or the name of a substance; behind "of" one unknown name
word      = listed word           a quantity ("mass", "theoretical yield"), an approximation ("approx."), a state or
                                  look of a substance ("dry", "white"), what was done with it ("left over")
          | formula               "NaCl", "Ph3COH"
          | element               "sodium"
          | stem+ ending …        a systematic name, with or without locants: "2-methylpropan-2-ol", "chromate"

"39.5 g of benzocaine", "39.5 mol in total" are understood, "39.5 mol squared", "39.5 g each" are not.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache

from problemgen.chemistry.elements import ELEMENTS
from problemgen.chemistry.formula import read_formula
from problemgen.errors import FormulaError
from problemgen.grade.reading.spelling import groups_written_out

__all__ = [
    "BEHIND_NUMBER",
    "LEADS_TO_SUBSTANCE",
    "PUNCTUATION",
    "RULES",
    "are_names",
    "formula_elements",
    "is_known",
]

PUNCTUATION = " .,;:?\N{NO-BREAK SPACE}"
"""What may stand round a word and says nothing."""


def _listed(words: str) -> list[str]:
    """The words of a table."""
    return words.split()


LEADS_TO_SUBSTANCE = frozenset({"of", "Of", "de", "von"})
"""What stands before a substance: one word behind it may be unknown."""

_APPROXIMATIONS = frozenset(
    _listed("approx approximately appx approximate about circa ca roughly nearly rounded estimated est estimate")
)
"""That a number was rounded."""

_ARTICLES = frozenset(_listed("the a an my our this der die das des"))
# A word that announces another one, and says nothing where it stands last.
_ANNOUNCING = LEADS_TO_SUBSTANCE | _ARTICLES | {"in", "by", "for", "from", "with", "as", "after", "before"}

_QUANTITIES = """
exactly exact precisely only just mass masse weight amount stoffmenge quantity volume concentration conc
molarity density temperature temp pressure yield ausbeute purity fraction ratio selectivity extent conversion
absorbance energy heat time duration rotation titre titer reading number count molecular formula empirical
theoretical theo theory theoretically actual actually experimental exp maximum max crude pure isolated final
initial mean average standard answer ans answers result ergebnis value calculated calc found is are equals equal
so therefore thus here it gives get got have limiting
"""
_BESIDE = """
of in by for from with as after before the a an my our this von de der die das total all altogether overall
needed required formed produced made used consumed reacted obtained collected left leftover over remaining
remains unreacted unused excess taken added present dissolved neutralised neutralized evolved released lost
recovered weighed theoretically expected possible available given heated cooled calcined portion portions
dilution dilutions
"""
_LOOKS = """
product products produkt reagent reagents reactant reactants substance compound material sample mixture solution
solutions solvent solute stock buffer precipitate residue crystals crystal powder salt salts acid acids base
alkali metal catalyst titrant analyte indicator oil gas gases liquid solid vapour vapor air layer phase filtrate
filter cake pellets ion ions atom atoms molecule molecules particles cation anion hydrate anhydrous hydrated
aqueous aq concentrated dilute diluted fuming glacial molten wet moist dry dried damp purified recrystallised
recrystallized impure fat distilled deionised deionized technical white yellow red green blue orange brown black
violet purple pink grey gray colourless colorless clear isomer isomers racemic commercial fresh raw unknown main
side major minor
"""
_NAMES = """
DEET EDTA KHP PABA THF DMF DMSO TRIS Biginelli Epsom Glauber Mohr Prussian Sudan acedoben alcohol alcohols alum
ammonia ammoniac ash aspirin baker baking banana baryte basic benzoin borax borneol isoborneol brimstone burnt
camphor cane carbic caustic chalk chrome common cinnamal copperas cream dextrose ester ether ethers fluorescein
glue haematite hematite hypo indigo indigotin ketone lime quicklime limestone luminol lye magnesia magnetite
malachite marble milk mineral muriatic naphtha oleum olein para phenolphthalein potash prussiate pyrite quartz
rock rust sal salen saltpetre saltpeter silica slaked soda struvite sugar table tin tolane trityl urea vanillin
vinegar vitamin vitriol washing water wintergreen xylene xylenes coumarin iron steel brass bronze graphite
diamond ozone methyl orange sulfolene caffeine paracetamol acetaminophen benzocaine adduct oxime menthol eugenol
limonene nicotine cholesterol aluminum caesium sulphur bleach peroxide brine
"""
BEHIND_NUMBER = (
    frozenset(word.casefold() for table in (_QUANTITIES, _BESIDE, _LOOKS) for word in _listed(table)) | _APPROXIMATIONS
) - _ARTICLES
"""What may follow a number without a unit: of substances formulas alone, since "2 butanol" is a name."""

_WORDS = BEHIND_NUMBER | _ARTICLES | {word.casefold() for word in _listed(_NAMES)}

# Whoever writes one of them behind "of" does not name a substance.
_MEANING = frozenset(
    _listed("""
error errors uncertainty half halves third thirds quarter quarters double twice triple thrice dozen dozens tens
hundred hundreds thousand thousands millions billions zero one two three four five six seven eight nine ten
eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty thirty forty fifty sixty
seventy eighty ninety each every both either neither not no none never negative minus plus times divided
multiplied squared cubed square cube root power inverse reciprocal per or and to oder und between less more than
least most without except maybe perhaps possibly what which
""")
)

_ELEMENT_NAMES = frozenset(name.casefold() for name in ELEMENTS.values())
_STEMS = (
    frozenset(
        _listed("""
mono di tri tetra tetr penta pent hexa hex hepta hept octa oct nona non deca decan decyl undec dodeca dodec
tetradec hexadec octadeca octadec bis tris tetrakis poly bi semi iso neo tert sec cis trans endo exo meso rac
cyclo ortho pyro meta hypo per anhydr meth eth prop but amyl cet form acet aceto propion butyr valer capro acryl
allyl vinyl benz benzo benzhydr phen phenyl tolu cum cumen styr stilb xyl cinnam cinnamal salicyl salicylid
phthal tereph naphth naphthal anthr anthrac phenanthr fluor fluoren malon male fumar succin glutar adip oxal
citr malic lact tart tartr glyc glycer glycol gluc fruct galact sucr lactos malt ascorb stear ole palmit laur
linol trisulf furan furfur pyr pyrr pyrrol pyrid pyrimid piperid quin quinol quinox indol imidazol azo az
azobenz ox oxy oxo oxol dioxol diox hydroxy hydrox hydr hydro hydraz alkoxy epoxy thio thi amin amino amid amido
imin imid anil anilin anilino toluid nitr nitro nitros nitroso chlor chloro brom bromo iod iodo fluoro carb
carbon carbox carboxy carbaz cyan cyano isocyan sulf sulph sulfon sulphur sulfin sulfam sulfanil phosph phospho phosphon
phosphin bor born borono norborn silic sil arsen selen alumin ferr cupr argent plumb stann stib chrom mangan
vanad tungst molybd titan zircon cobalt mercur ammin ammine aqua ammon umbellifer chalc tetracycl glyox salic
resorcin hydroquin camph fur tartar dehydro gly oxim phosphor vanill boro thion mon buta azep aceton thioph
ferri ferro coumar
""")
    )
    | _ELEMENT_NAMES
)
_ENDINGS = (
    frozenset(
        _listed("""
an ane ana en ene ena yn yne ol ole al one oic oate ic ous ate ato ite ide ido yl oyl ylo oxy ine in amine amino
imine amide imide oxide oxime nitrile aldehyde ehyde ium onium idene ylene ylidene ono ose form ocene azo il ile
eal ilic ester ether furan amyl thiol azine azone azide azole azolone anilide idide lactam lactone olate ein
ulose ylate onate onato inate
""")
    )
    | _ELEMENT_NAMES
)
_LONGEST_PIECE = max(map(len, _STEMS | _ENDINGS))
# Longer ones are no names that anybody types into a cell.
_LONGEST_WORD = 80

_PIECES = re.compile(r"[-'()\[\],+{}]+")
_LOCANT = re.compile(
    r"[0-9]{1,2}[A-Za-z]?|[A-Za-z\N{GREEK SMALL LETTER ALPHA}-\N{GREEK SMALL LETTER OMEGA}][0-9]?"
    r"|(?:I{1,3}|IV|VI{0,3}|i{1,3}|iv|vi{0,3})"
)
_BY_MASS = frozenset({"w/w", "m/m", "v/v"})

RULES: Mapping[str, object] = {
    "punctuation": PUNCTUATION,
    "leads_to_substance": LEADS_TO_SUBSTANCE,
    "articles": _ARTICLES,
    "announcing": _ANNOUNCING,
    "behind_number": BEHIND_NUMBER,
    "listed": _WORDS,
    "element_names": _ELEMENT_NAMES,
    "meaning": _MEANING,
    "stems": _STEMS,
    "endings": _ENDINGS,
    "longest_piece": _LONGEST_PIECE,
    "longest_word": _LONGEST_WORD,
    "pieces": _PIECES,
    "locant": _LOCANT,
    "by_mass": _BY_MASS,
}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""


def are_names(words: Sequence[str]) -> bool:
    """Whether words without marks round them can all be passed over; one behind "of" may be unknown.

    >>> are_names(["of", "the", "dry", "product"]), are_names(["squared"])
    (True, False)
    """
    if words and words[-1].casefold() in _ANNOUNCING and not formula_elements(words[-1]):
        return False
    return all(is_known(word) or _is_announced(words, place) for place, word in enumerate(words))


def _is_announced(words: Sequence[str], place: int) -> bool:
    """Whether an unknown word stands behind "of", so that it names a substance."""
    before = place - 1
    while before > 0 and words[before].casefold() in _ARTICLES:
        before -= 1
    word = words[place]
    return before >= 0 and words[before] in LEADS_TO_SUBSTANCE and word.isalpha() and word.casefold() not in _MEANING


@lru_cache(maxsize=4096)
def is_known(word: str) -> bool:
    """Whether a word is listed, a formula, or the name of a substance."""
    bare = word.strip(PUNCTUATION + "()[]'")
    if not bare:
        return not word.strip(PUNCTUATION)
    if bare.casefold() in _WORDS or bare in _BY_MASS:
        return True
    if formula_elements(word) or formula_elements(bare):
        return True
    pieces = [piece for piece in _PIECES.split(word.strip(PUNCTUATION)) if piece]
    named = [piece for piece in pieces if not _LOCANT.fullmatch(piece)]
    if not named or pieces[-1][-1].isdecimal():
        return False
    if all(piece.casefold() in _WORDS or _is_name(piece.casefold()) or formula_elements(piece) for piece in named):
        return True
    return _is_name("".join(named).casefold())


def _is_name(word: str) -> bool:
    """Whether a word in small letters is an element, or stems and endings of chemical names in a row."""
    if word in _ELEMENT_NAMES:
        return True
    if len(word) > _LONGEST_WORD:
        return False
    reached, ended = {0}, set()
    for start in range(len(word)):
        if start not in reached:
            continue
        for end in range(start + 2, min(start + _LONGEST_PIECE, len(word)) + 1):
            piece = word[start:end]
            ends = start > 0 and piece in _ENDINGS
            if ends or piece in _STEMS:
                reached.add(end)
            if ends:
                ended.add(end)
    return len(word) in ended


@lru_cache(maxsize=4096)
def formula_elements(text: str) -> tuple[str, ...]:
    """The elements of a formula; none if the text is no formula."""
    try:
        return tuple(read_formula(groups_written_out(text)).composition) or ("e",)
    except FormulaError:
        return ()
