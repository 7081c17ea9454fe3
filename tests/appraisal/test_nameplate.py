"""Reading nameplates: what people type, what is torn or foreign, which family it names, years of order."""

import random
from dataclasses import FrozenInstanceError, asdict

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.nameplates import CHANGES, nomenclature, random_designation, random_text, spelled
from webapp.appraisal.nameplate import LOOKS_AT, Reading, order_year, read_nameplate, suggests

KINDS = {"set", "unit", "half-readable", "not of this system", "empty"}
TRANSMITTER, RECEIVER = "aircraft-hf-transmitter", "aircraft-receiver"
seeds = st.integers(0, 10**9).map(random.Random)


def read(text: str) -> Reading:
    return read_nameplate(nomenclature(), text)


def said(reading: Reading, piece: str) -> list[str]:
    return [line.says for line in reading.lines if line.piece == piece]


def about(reading: Reading) -> dict[str, str]:
    return {line.about: line.piece for line in reading.lines}


# ---- any text


@given(st.text(max_size=60) | st.text("AN/GRT-91?0OI ()VX.U\n\u2013", max_size=40) | seeds.map(random_text))
def test_any_text_is_read_and_answered_with_a_sentence(text: str) -> None:
    reading = read(text)
    assert reading.kind in KINDS
    assert reading.sentence
    assert "{" not in reading.sentence
    assert bool(reading.written) == bool(reading.lines) == (reading.kind in ("set", "unit", "half-readable"))
    assert reading.families == () or reading.kind in ("set", "unit")
    assert all(line.piece and line.about and line.says for line in reading.lines)
    year = order_year(nomenclature(), text)
    assert year.sentence
    assert year.year is None or 1930 <= year.year <= 1969


@pytest.mark.parametrize("text", ["", "  ", "\n \n", "\u00a0\ufeff\t"])
def test_nothing_typed_is_empty(text: str) -> None:
    reading = read(text)
    assert (reading.kind, reading.written, reading.lines) == ("empty", "", ())


def test_only_the_beginning_of_a_very_long_text_is_looked_at() -> None:
    words = "radio " * LOOKS_AT
    assert read(words + "AN/GRR-991A").kind == "not of this system"
    assert read("AN/GRR-991A " + words).written == "AN/GRR-991A"


def test_a_reading_cannot_be_changed() -> None:
    with pytest.raises(FrozenInstanceError):
        read("AN/GRR-991A").kind = "unit"  # type: ignore[misc]


# ---- one designation, typed in many ways


@given(seeds)
def test_every_way_of_typing_a_designation_reads_the_same(rng: random.Random) -> None:
    written = random_designation(rng)
    usual, typed = read(written), read(spelled(written, rng))
    assert usual.written == written
    assert usual.kind == ("set" if written.startswith("AN/") else "unit")
    assert asdict(typed) == asdict(usual)


@given(seeds, st.sampled_from(["", *CHANGES]), st.sampled_from(["", " ", "/", "-", " / ", "  "]))
def test_a_set_reads_the_same_without_its_slash_and_dash(rng: random.Random, change: str, apart: str) -> None:
    written = f"AN/GRR-{rng.randint(991, 9999)}{change}"
    loose = written.replace("/", apart).replace("-", rng.choice(["", " ", "-", "\u2014"]))
    assert asdict(read(rng.choice([loose, loose.lower()]))) == asdict(read(written))


@pytest.mark.parametrize(
    "typed",
    [
        "an grr 991a", "ANGRR991A", "AN/GRR991 A", "A N / G R R - 991 A",
        "AN-GRR-991A", "an/grr/991a", "AN/GRR-99IA", "an/grr - 99i a", "AN\u2215GRR\u2011991A",
        "RADIO RECEIVING SET\nAN/GRR-991A\nSERIAL NO. 112\nORDER NO. 4123-MT-51",
        "Nomenclature AN/GRR-991A Serial 112", "(AN/GRR-991A)", "AN/GRR-991A.", "SER. 12-AN/GRR-991A",
    ],
)  # fmt: skip
def test_these_are_all_the_same_set(typed: str) -> None:
    assert asdict(read(typed)) == asdict(read("AN/GRR-991A"))


@pytest.mark.parametrize(
    ("typed", "written"),
    [
        ("r 9901 / grr 991", "R-9901/GRR-991"),
        ("R9901GRR991", "R-9901/GRR-991"),
        ("R-9901 GRR-991", "R-9901/GRR-991"),
        ("RT9904B/TRC992", "RT-9904B/TRC-992"),
        ("rt 9904 b/trc 992", "RT-9904B/TRC-992"),
        ("MX99O3/U", "MX-9903/U"),
        ("0-9903/U", "O-9903/U"),
        ("PP-9902/GRR 24 VOLTS DC", "PP-9902/GRR"),
        ("PP-9902/GRR 24V", "PP-9902/GRR"),
        ("G0-9904/U", "GO-9904/U"),
        ("AN/GRR-I", "AN/GRR-1"),
        ("AN/GRR-1OO", "AN/GRR-100"),
        ("AN/GRR-991 U S ARMY", "AN/GRR-991"),
        ("AN/GRR-991 U.S. ARMY", "AN/GRR-991"),
        ("AN/GRR-991 A U S ARMY", "AN/GRR-991"),
        ("AN/GRR-991 B SERIAL 12", "AN/GRR-991B"),
        ("AN/GRR-991 (V) 2", "AN/GRR-991(V)2"),
        ("AN/GRR-991(V) 24 VOLTS", "AN/GRR-991(V)"),
        ("AN/GRR-991()", "AN/GRR-991( )"),
        ("AN/GRR-991(XE1)", "AN/GRR-991(XE-1)"),
        ("an grr t1", "AN/GRR-T1"),
    ],
)
def test_what_was_typed_is_written_in_the_usual_form(typed: str, written: str) -> None:
    assert read(typed).written == written


def test_of_several_designations_the_surest_is_read_and_of_those_the_first() -> None:
    assert read("AN/GRR-991A and AN/GRR-992").written == "AN/GRR-991A"
    assert read("GRR-991, AN/GR?-992, an grr 993, AN/GRR-994").written == "AN/GRR-994"
    assert read("R-9901/GRR-991\nPART OF AN/GRR-991").written == "R-9901/GRR-991"


# ---- what each piece says


def test_the_pieces_of_a_set_are_told_in_their_order_with_grounds() -> None:
    reading = read("AN/PRC-991BY(V)3")
    assert [line.piece for line in reading.lines] == ["AN/", "P", "R", "C", "991", "B", "Y", "(V)3"]
    assert [line.basis for line in reading.lines] == ["from memory", *["published"] * 3, *["from memory"] * 4]
    assert [line.source for line in reading.lines[1:4]] == ["radio-designation-page"] * 3
    assert said(reading, "B") == ["modified, change 2"]
    assert said(reading, "Y") == ["power input changed, change 2"]
    assert said(reading, "(V)3") == ["fixed choice 3 of what belongs to it"]
    (number,) = [line for line in reading.lines if line.piece == "991"]
    assert "no date" in number.says
    assert "no frequency" in number.note


def test_modification_letters_count_without_those_that_are_skipped() -> None:
    counted = [said(read(f"AN/GRR-991{letter}"), letter)[-1:] for letter in CHANGES]
    assert counted == [[f"modified, change {n}"] for n in range(1, len(CHANGES) + 1)]


@pytest.mark.parametrize("letter", "QST")
def test_a_letter_that_is_no_modification_is_left_open(letter: str) -> None:
    reading = read(f"AN/GRR-991{letter}")
    assert (reading.kind, reading.written) == ("half-readable", f"AN/GRR-991{letter}")
    assert said(reading, letter) == ["not known to this table"]


def test_a_unit_tells_its_kind_its_number_and_what_it_is_used_with() -> None:
    reading = read("RT-9904B/TRC-992")
    assert [line.piece for line in reading.lines] == ["RT", "9904", "B", "/TRC-992", "T", "R", "C"]
    assert said(reading, "RT") == ["receiver-transmitter"]
    assert said(reading, "/TRC-992") == ["part of AN/TRC-992"]
    assert said(read("PP-9902/GRR"), "/GRR") == ["used with several sets of the kind GRR"]
    assert said(read("MX-9903/A"), "/A") == ["for general use: airborne"]
    assert "transportable on the ground" in {line.says for line in reading.lines}


def test_a_letter_with_no_row_is_named_as_unknown_in_the_line_and_in_the_sentence() -> None:
    reading = read("AN/EGR-991")
    assert reading.kind == "set"
    assert said(reading, "E") == ["not known to this table"]
    assert "E, not known to this table" in reading.sentence
    assert said(read("QQ-9901/GRR-991"), "QQ") == ["not known to this table"]


# ---- torn plates, and plates of another kind


@pytest.mark.parametrize(
    ("typed", "written", "missing"),
    [
        ("AN/GR?-991", "AN/GR?-991", ["what it is for"]),
        ("an gr?-991", "AN/GR?-991", ["what it is for"]),
        ("AN/?R*-991", "AN/?R?-991", ["where it is used", "what it is for"]),
        ("AN/GRR-9?1", "AN/GRR-9?1", ["number of the type"]),
        ("AN/-991", "AN/?-991", ["the letters"]),
        ("AN/GR-991", "AN/GR-991", ["the letters"]),
        ("AN/GRR-", "AN/GRR-?", ["number of the type"]),
        ("AN/GRR", "AN/GRR-?", ["number of the type"]),
        ("AN/GRR-99123", "AN/GRR-99123", ["number of the type"]),
        ("AN/GRR-991A?", "AN/GRR-991A?", ["the rest"]),
        ("AN/", "AN/?-?", ["the letters", "number of the type"]),
        ("?-9901/GRR-991", "?-9901/GRR-991", ["kind of unit"]),
        ("R-????/GRR-991", "R-????/GRR-991", ["number of the unit"]),
        ("R-9901/", "R-9901/?", ["what it is used with"]),
        ("R-9901/G?R-991", "R-9901/G?R-991", ["what it is used with", "kind of equipment"]),
    ],
)
def test_a_torn_designation_says_what_is_not_clear(typed: str, written: str, missing: list[str]) -> None:
    reading = read(typed)
    assert (reading.kind, reading.written) == ("half-readable", written)
    assert [line.about for line in reading.lines if line.basis is None] == missing
    assert ", ".join(missing) in reading.sentence
    assert reading.families == ()


def test_what_can_be_read_of_a_torn_designation_is_still_told() -> None:
    reading = read("AN/PR?-991")
    assert said(reading, "P") == ["portable, carried by a person"]
    assert said(reading, "R") == ["radio"]
    assert said(reading, "?") == ["cannot be read"]
    assert about(reading)["number of the type"] == "991"


def test_letters_without_an_before_them_may_be_of_an_older_system() -> None:
    reading = read("GRR-991A")
    assert (reading.kind, reading.written) == ("half-readable", "GRR-991A")
    assert "no AN/" in reading.sentence
    assert "older systems" in reading.sentence
    assert about(reading)["the system"] == "AN/"


@pytest.mark.parametrize(
    "text",
    [
        "Marrow & Teal Instrument Works", "Tern B, 3 300 to 5 000 kHz", "MODEL 12 RECEIVER", "QZ-991",
        "TYPE N-12", "an old 12 v set", "A. N. Other", "AN", "CONTRACT DA-36-039-SC-991", "115 VAC 60 CPS",
        "T 115 VAC 60 CPS", "SERIAL NO. 112/45", "W/T", "DYNAMOTOR 24 V/DC", "AN9912A-16S", "GRR",
        "\u0410N/GRR-991", "12-GRR-991-45", "???", "---",
    ],
)  # fmt: skip
def test_anything_else_is_said_to_be_of_no_such_system(text: str) -> None:
    reading = read(text)
    assert (reading.kind, reading.written, reading.lines) == ("not of this system", "", ())
    assert "no designation of the joint system" in reading.sentence


# ---- families


@pytest.mark.parametrize(
    ("text", "families"),
    [
        ("AN/ART-991", (TRANSMITTER,)),
        ("AN/ARC-991A", (TRANSMITTER, RECEIVER)),
        ("AN/ARN-991", (RECEIVER,)),
        ("AN/VRC-991", ("vehicle-set",)),
        ("AN/GRR-991", ()),
        ("AN/ART-991-T1", ()),
        ("AN/ART-T1", ()),
        ("AN/AR?-991", ()),
        ("ART-991", ()),
        ("T-9901/ART-991", (TRANSMITTER,)),
        ("T-9901/ARC", (TRANSMITTER,)),
        ("R-9901/ARC-991", (RECEIVER,)),
        ("T-9901/U", (TRANSMITTER,)),
        ("T-9901/A", (TRANSMITTER,)),
        ("T-9901/G", ()),
        ("T-9901/GRC-991", ()),
        ("RT-9904/VRC-992", ("vehicle-set",)),
        ("PP-9902/GRR", ("supply",)),
        ("MX-9903/U", ()),
    ],
)
def test_a_designation_points_to_the_families_that_go_by_it(text: str, families: tuple[str, ...]) -> None:
    assert read(text).families == families


def test_the_sentence_names_the_families_or_says_that_there_is_none() -> None:
    assert "Aircraft transmitter or Aircraft receiver" in read("AN/ARC-991").sentence
    assert "No kind of radio" in read("AN/GRR-991").sentence


@pytest.mark.parametrize(
    ("text", "family", "expected"),
    [
        ("AN/ART-991", TRANSMITTER, True),
        ("AN/ART-991", RECEIVER, False),
        ("AN/ARC-991", RECEIVER, True),
        ("R-9901/ARR-991", TRANSMITTER, False),
        ("AN/GRR-991", TRANSMITTER, None),
        ("AN/AR?-991", TRANSMITTER, None),
        ("ART-991", TRANSMITTER, None),
        ("AN/ART-T1", TRANSMITTER, None),
        ("Tern B", TRANSMITTER, None),
        ("", TRANSMITTER, None),
        ("AN/ART-991", "home-made", None),
        ("AN/ART-991", "unheard-of", None),
    ],
)
def test_a_family_fits_does_not_fit_or_cannot_be_told(text: str, family: str, expected: bool | None) -> None:
    assert suggests(nomenclature(), read(text), family) is expected


# ---- years of order


@pytest.mark.parametrize(
    ("text", "year"),
    [
        ("4123-MT-45", 1945),
        ("4123-MT-30", 1930),
        ("4123-MT-69", 1969),
        ("4123/45", 1945),
        ("4123 '45", 1945),
        ("4123’45.", 1945),
        ("4123 45", 1945),
        ("4123 \u2013 45", 1945),
        ("Order No. 4123-MT-45", 1945),
        ("RADIO SET\nORDER NO. 4123-MT-45\nSERIAL 12-31", 1945),
        ("RADIO SET\nCONTRACT\n4123-MT-45\nSERIAL 12-31", 1945),
        ("4123-MT-29", None),
        ("4123-MT-70", None),
        ("4123-MT-1945", None),
        ("412345", None),
        ("MT45", None),
        ("45", None),
        ("ORDER NO. 45", None),
        ("4123-45-MT", None),
        ("RADIO SET\n4123-MT-45", None),
        ("RECORDER 12\nSERIAL 12-45", None),
        ("", None),
        ("\n", None),
    ],
)
def test_the_year_of_order_is_read_where_two_digits_stand_apart_at_the_end(
    text: str, year: int | None
) -> None:
    found = order_year(nomenclature(), text)
    assert found.year == year
    if year:
        assert "often the year" in found.sentence
        assert str(year) in found.sentence
        assert found.basis == "common practice"
    else:
        assert "No " in found.sentence
        assert found.basis is None
