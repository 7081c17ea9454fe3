"""What a label says, in its symbol and in words."""

import pytest

from webapp.photos.label_text import in_words, is_sheet, label_of, new_sheet, payload


def test_a_label_is_written_for_the_symbol_and_in_words() -> None:
    assert (payload("K7Q2", 7), in_words("K7Q2", 7)) == ("UC:K7Q2:007", "K7Q2-007")


@pytest.mark.parametrize("number", [1, 42, 999])
def test_what_is_printed_is_read_again(number: int) -> None:
    assert label_of(payload("K7Q2", number)) == in_words("K7Q2", number)


@pytest.mark.parametrize(
    "held",
    [
        "", "UC", "K7Q2-007", "uc:k7q2:007", "UC:K7Q2:000", "UC:K7Q2:7", "UC:K7Q2:0007", "UC:K0Q2:007",
        "UC:KIQ2:007", "UC:K7Q:007", " UC:K7Q2:007", "UC:K7Q2:007\n", "UC:K7Q2:٠٠٧", "https://example.org/?UC:K7Q2:007",
    ],
)  # fmt: skip
def test_what_is_not_of_the_form_is_no_label(held: str) -> None:
    assert label_of(held) is None


def test_a_new_sheet_is_a_sheet_and_seldom_the_same() -> None:
    sheets = [new_sheet() for _ in range(50)]
    assert all(is_sheet(sheet) for sheet in sheets)
    assert len(set(sheets)) > 45
