"""Type designations against the joint electronics type designation system, MIL-STD-196.

The letter tables below are from memory: the standard was found by title and edition only (MIL-STD-196G).
Seen on a documentation page on radio type designations: A airborne, P portable, V vehicular, R radio,
C two-way communications.
"""

from itertools import product

import pytest

from tests.support.nameplates import letters_of, nomenclature
from webapp.appraisal.nameplate import Reading, read_nameplate

ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
PLACES = ("installation", "equipment", "purpose")
# Letter → a word of its meaning, or one for each of its meanings, the older first.
INSTALLATION = {
    "A": ["airborne"], "B": ["submarine"], "C": ["carried by air", "cryptographic"], "D": ["pilotless"],
    "F": ["fixed"], "G": ["ground"], "K": ["amphibious"], "M": ["mobile"], "P": ["portable"], "S": ["ship"],
    "T": ["transportable"], "U": ["air, ship and ground"], "V": ["vehicular"], "Z": ["piloted and pilotless"],
}  # fmt: skip
EQUIPMENT = {
    "A": ["heat radiation"], "B": ["pigeon", "security"], "C": ["carrier"], "D": ["radiation detection"],
    "E": ["nuclear", "laser"], "F": ["photographic", "fibre"], "G": ["telegraph"], "I": ["interphone"],
    "J": ["electromechanical"], "K": ["telemetering"], "L": ["countermeasures"], "M": ["weather"],
    "N": ["sound in air"], "P": ["radar"], "Q": ["underwater sound"], "R": ["radio"], "S": ["special"],
    "T": ["telephone"], "V": ["visible light"], "W": ["armament"], "X": ["facsimile"], "Y": ["data"],
}  # fmt: skip
PURPOSE = {
    "A": ["auxiliary"], "B": ["bombing"], "C": ["two-way"], "D": ["direction finding", "surveillance"],
    "E": ["release"], "G": ["fire control"], "H": ["recording"], "K": ["computing"], "L": ["searchlight"],
    "M": ["test"], "N": ["navigation"], "P": ["reproducing"], "Q": ["combination"], "R": ["receiving"],
    "S": ["range and bearing"], "T": ["transmitting"], "W": ["automatic flight"], "X": ["identification"],
    "Y": ["surveillance"],
}  # fmt: skip
TABLES = dict(zip(PLACES, (INSTALLATION, EQUIPMENT, PURPOSE), strict=True))
INDICATORS = [
    "AB", "AM", "AS", "AT", "BA", "BB", "BZ", "C", "CA", "CB", "CG", "CK", "CM", "CN", "CP", "CR", "CU",
    "CV", "CW", "CX", "CY", "D", "DA", "DT", "DY", "E", "F", "FN", "FR", "G", "GO", "GP", "H", "HC",
    "HD", "ID", "IL", "IM", "IP", "J", "KY", "LC", "LS", "M", "MD", "ME", "MF", "MK", "ML", "MT", "MX",
    "O", "OA", "OC", "OS", "PD", "PF", "PG", "PH", "PP", "PT", "PU", "R", "RC", "RD", "RE", "RF", "RG",
    "RL", "RO", "RP", "RR", "RT", "S", "SA", "SB", "SG", "SM", "SN", "ST", "T", "TA", "TD", "TF", "TG",
    "TH", "TK", "TL", "TN", "TS", "TT", "TV", "TW", "U", "UG", "V", "VS", "WD", "WF", "WM", "WS", "WT",
    "ZM",
]  # fmt: skip


def read(text: str) -> Reading:
    return read_nameplate(nomenclature(), text)


def with_letter(place: str, letter: str) -> str:
    """A set's designation with that letter in that place."""
    letters = ["G", "R", "R"]
    letters[PLACES.index(place)] = letter
    return f"AN/{''.join(letters)}-991"


def meanings(text: str, place: str) -> list[str]:
    about = nomenclature()["words"][f"about-{place}"]
    return [line.says for line in read(text).lines if line.about == about]


@pytest.mark.parametrize("place", PLACES)
def test_each_place_has_these_letters_and_says_of_every_other_that_it_is_not_known(place: str) -> None:
    """Source: MIL-STD-196, the tables of installation, equipment and purpose letters; from memory.

    First letters never given out: E H I J L N O Q R X Y. Of W as first letter and of Z as second or third
    the memory is too weak to ship.
    """
    assert set(letters_of(place)) == set(TABLES[place])
    for letter in sorted(set(ALPHABET) - set(TABLES[place])):
        assert meanings(with_letter(place, letter), place) == ["not known to this table"], letter


@pytest.mark.parametrize(
    ("place", "letter"), [(place, letter) for place in PLACES for letter in TABLES[place]]
)
def test_each_letter_says_what_the_table_of_its_place_says(place: str, letter: str) -> None:
    """Source: MIL-STD-196; from memory, but for A, P, V, R and C, seen on the page named above."""
    found = meanings(with_letter(place, letter), place)
    for says, word in zip(found, TABLES[place][letter], strict=True):
        assert word in says


def test_every_combination_of_letters_is_read_whole() -> None:
    """Source: MIL-STD-196, AN/ with one letter of each table and a number; from memory."""
    combinations = list(product(INSTALLATION, EQUIPMENT, PURPOSE))
    assert len(combinations) > 5000
    for letters in combinations:
        reading = read(f"AN/{''.join(letters)}-991")
        assert reading.kind == "set", letters
        assert {line.basis for line in reading.lines} <= {"published", "from memory"}, letters
        expected = [
            letter for place, letter in zip(PLACES, letters, strict=True) for _ in TABLES[place][letter]
        ]
        assert [line.piece for line in reading.lines] == ["AN/", *expected, "991"], letters


@pytest.mark.parametrize(
    ("place", "letter", "periods"),
    [
        ("installation", "C", ["from 1943, later withdrawn", "late editions"]),
        ("equipment", "B", ["from 1943, later withdrawn", "late editions"]),
        ("equipment", "E", ["middle editions", "late editions"]),
        ("equipment", "F", ["from 1943, later withdrawn", "late editions"]),
        ("purpose", "D", ["from 1943", "late editions"]),
    ],
)
def test_a_letter_that_changed_gives_both_meanings_with_their_periods(
    place: str, letter: str, periods: list[str]
) -> None:
    """Source: MIL-STD-196, later editions against the plates of 1943 to 1945; from memory."""
    reading = read(with_letter(place, letter))
    about = nomenclature()["words"][f"about-{place}"]
    lines = [line for line in reading.lines if line.about == about]
    assert [line.period for line in lines] == periods
    for line in lines:
        assert f"{line.says} ({line.period})" in reading.sentence


def test_a_letter_that_did_not_change_has_one_meaning_and_no_period_in_the_sentence() -> None:
    """Source: MIL-STD-196, letters alike in all editions; from memory."""
    sentence = read("AN/GRR-991").sentence
    assert sentence.startswith("AN/GRR-991 is a set: general use on the ground; radio; receiving")
    assert "editions" not in sentence


# Designation → kind, and what its lines say of its pieces.
EXAMPLES = {
    "AN/GRR-991": ("set", {"G": "ground", "R": "receiving", "991": "number 991"}),
    "AN/GRR-991A": ("set", {"A": "change 1"}),
    "AN/GRR-991AX": ("set", {"A": "modified, change 1", "X": "power input changed, change 1"}),
    "AN/GRR-991X": ("set", {"X": "power input changed, change 1"}),
    "AN/GRR-991Z": ("set", {"Z": "power input changed, change 3"}),
    "AN/GRR-991(V)": ("set", {"(V)": "varies"}),
    "AN/GRR-991A(V)2": ("set", {"A": "change 1", "(V)2": "fixed choice 2"}),
    "AN/GRR-991-T1": ("set", {"991": "number 991", "T1": "trainer 1"}),
    "AN/GRR-T1": ("set", {"T1": "trainer 1"}),
    "AN/GRR-991( )": ("set", {"( )": "left open"}),
    "AN/GRR-991(XE-1)": ("set", {"(XE-1)": "development model 1"}),
    "R-9901/GRR-991": ("unit", {"R": "receiver", "9901": "number 9901", "/GRR-991": "part of AN/GRR-991"}),
    "PP-9902/GRR": ("unit", {"PP": "power supply", "/GRR": "several sets of the kind GRR"}),
    "MX-9903/U": ("unit", {"MX": "miscellaneous", "/U": "general use"}),
    "RT-9904B/TRC-992": ("unit", {"RT": "receiver-transmitter", "B": "change 2", "/TRC-992": "AN/TRC-992"}),
}


@pytest.mark.parametrize("text", EXAMPLES)
def test_each_form_of_the_grammar_reads_as_stated(text: str) -> None:
    """Source: MIL-STD-196, how sets, their changes, trainers and units are named; from memory."""
    kind, pieces = EXAMPLES[text]
    reading = read(text)
    assert (reading.kind, reading.written) == (kind, text)
    for piece, says in pieces.items():
        assert [line.says for line in reading.lines if line.piece == piece and says in line.says], piece


def test_every_example_of_the_grammar_rows_reads_as_itself() -> None:
    """Source: the same."""
    examples = {row["example"] for row in nomenclature()["grammar"]}
    assert len(examples) > 10
    for example in examples:
        assert read(example).written == example


def test_the_letters_of_a_unit_are_those_of_the_older_list() -> None:
    """Source: MIL-STD-196, component indicators as on plates of 1943 to about 1969; from memory."""
    assert sorted(nomenclature()["indicators"]) == sorted(INDICATORS)
    for code in INDICATORS:
        reading = read(f"{code}-9901/GRR-991")
        assert reading.kind == "unit", code
        assert reading.lines[0].says == nomenclature()["indicators"][code]["meaning"]


def test_any_other_letters_of_a_unit_are_not_known() -> None:
    """Source: the same list."""
    codes = {*ALPHABET, *(first + second for first, second in product(ALPHABET, repeat=2))}
    others = sorted(codes - {*INDICATORS, "AN"})
    assert len(others) > 500
    for code in others:
        reading = read(f"{code}-9901/GRR-991")
        assert (reading.kind, reading.lines[0].says) == ("unit", "not known to this table"), code
