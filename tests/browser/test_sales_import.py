"""Sales from a table: every line's fate before anything is stored, one tap to take them in, one to undo."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import Select

from tests.support.packs import FAMILY, pack_for
from tests.support.phone import Phone
from tests.support.server import LiveServer
from tests.support.table import Table

Json = dict[str, Any]

LOAD = "const load = (name) => import(document.documentElement.dataset.base + `js/store/${name}.js`);"
STORED = LOAD + "return JSON.stringify(await (await load('sales')).listSales());"
CSV = LOAD + "return (await (await load('sale_export')).salesCsv()).text;"
EACH = LOAD + "return JSON.stringify(JSON.parse(args[1]).map((await load('sale_cells'))[args[0]]));"
STATE = pack_for()["states"][3]
NAME = pack_for()["name"]


def _choose(table: Table, tmp_path: Path, content: str | bytes) -> None:
    """Open the import screen and choose a file of this content."""
    file = tmp_path / "sales.csv"
    file.write_bytes(content if isinstance(content, bytes) else content.encode())
    table.open("#/sales/import")
    table.reload()
    table.find(".sales-import input[type=file]").send_keys(str(file))


def _fate(table: Table, fate: str) -> list[str]:
    rows = table.phone.driver.find_elements(By.CSS_SELECTOR, f".fate.{fate} tbody tr")
    return [row.text.replace("\n", " | ") for row in rows]


def _stored(table: Table) -> list[Json]:
    rows: list[Json] = json.loads(table.phone.js(STORED))
    return rows


def _take(table: Table, count: str) -> None:
    table.tap(".import-preview .button.strong", f"Take in {count}")
    table.find("main[data-page='sales'] .sale-list")


def test_lines_are_taken_in_with_one_tap_after_a_preview_and_undone_with_another(
    table: Table, tmp_path: Path
) -> None:
    _choose(
        table,
        tmp_path,
        "date,price,currency,kind,type,state,place,note\r\n"
        f'2025-06-01,120,USD,sold,Tern B,{STATE["id"]},Quayside Sunday Market,"two\r\nlines"\r\n'
        f'2025-07-01,"1,500",USD,for sale,TERN-C,"{STATE["label"].upper()}",,\r\n',
    )
    table.find(".fate.new h2", "Will be taken in: 2")
    assert _stored(table) == []
    _take(table, "2 sales")
    table.find(".notice", "2 sales taken in")
    later, earlier = _stored(table)
    common = {"family": FAMILY, "currency": "USD", "state": STATE["id"], "demo": False, "aside": False}
    assert (common | {"price": 1500, "kind": "asked", "model_sheet": "tern-c"}).items() <= later.items()
    assert (common | {"price": 120, "kind": "sold", "model_sheet": "tern-b"}).items() <= earlier.items()
    assert (earlier["note"], earlier["place"]) == ("two\r\nlines", "Quayside Sunday Market")
    table.tap(".notice .button", "Undo")
    table.find(".sale-list", "No sales yet")
    assert _stored(table) == []


def test_cancel_stores_nothing(table: Table, tmp_path: Path) -> None:
    _choose(table, tmp_path, "date,price,type\n2025-06-01,$120,Tern B\n")
    table.find(".import-preview .button.strong", "Take in 1 sale")
    table.tap(".import-preview a.button", "Cancel")
    table.find(".sale-list", "No sales yet")
    assert _stored(table) == []


def test_lines_that_cannot_be_read_say_why_and_the_others_are_taken_in(table: Table, tmp_path: Path) -> None:
    lines = {
        ";90;Tern B;sold;": "It has no date",
        "2025-06-01;;Tern B;sold;": "It has no price",
        "2025-06-01;dear;Tern B;sold;": "The price “dear” is not a number",
        "2025-06-01;0;Tern B;sold;": "price above 0",
        "2025-02-30;90;Tern B;sold;": "The date “2025-02-30” cannot be read",
        "2199-01-01;90;Tern B;sold;": "still to come",
        "2025-06-01;90;Heron Z;sold;": "No type is called “Heron Z” here",
        "2025-06-01;90;Tern B;swapped;": "“swapped” says neither sold nor asked",
        "2025-06-01;90 QQQ;Tern B;sold;": "“QQQ” is no currency code",
        "2025-06-01;€ 90;Tern B;sold;USD": "two currencies, USD and EUR",
        "2025-06-01;$ 90;Tern B;sold;EUR": "two currencies, $ and EUR",
        "1/6/25;90;Tern B;sold;": "The date “1/6/25” cannot be read",
    }
    good = "2025-06-01;90;Tern B;sold;USD"
    _choose(table, tmp_path, "\n".join(["date;price;type;kind;currency", *lines, good]))
    table.find(".fate.bad")
    bad = _fate(table, "bad")
    assert len(bad) == len(lines)
    for number, (why, row) in enumerate(zip(lines.values(), bad, strict=True), 2):
        assert row.startswith(f"{number} ")
        assert why in row
    _take(table, "1 sale")
    table.find(".notice", f"1 sale taken in. {len(lines)} lines were left out")
    assert [row["price"] for row in _stored(table)] == [90]


def test_what_was_exported_is_already_here(table: Table, tmp_path: Path) -> None:
    _choose(
        table,
        tmp_path,
        "date,price,currency,kind,family,type,place,note,rate\n"
        f'2025-06-01,"123,456.5",USD,sold,"{NAME}",Tern B,=1+1,"a ""b"", c",\n'
        f'2025-06-02,123.4560,EUR,asked,{FAMILY},,"semi;colon","\'quoted",0.92\n'
        f"2025-06-02,123.4560,EUR,asked,{FAMILY},,semi;colon,'quoted,0.92\n"
        "2025-06-03,0.01,JPY,sold,,tern-a,Ærø,@home,\n",
    )
    _take(table, "4 sales")
    table.find(".notice", "4 sales taken in")
    before = _stored(table)
    assert {row["price"] for row in before} == {123456.5, 123.456, 0.01}
    exported = table.phone.js(CSV)
    # Spreadsheets would take these for formulas.
    assert ",'=1+1," in exported
    assert ",'@home," in exported
    _choose(table, tmp_path, "\ufeff" + exported)
    table.find(".fate.here h2", "Already here: 4")
    table.find(".import-preview", "There is nothing to take in")
    assert not table.phone.driver.find_element(
        By.CSS_SELECTOR, ".import-preview .button.strong"
    ).is_displayed()
    # One line more than is here is one sale more.
    _choose(table, tmp_path, exported + exported.splitlines()[1] + "\r\n")
    table.find(".fate.here h2", "Already here: 4")
    _take(table, "1 sale")
    assert len(_stored(table)) == len(before) + 1


def test_whether_day_or_month_comes_first_is_asked_when_nothing_decides(table: Table, tmp_path: Path) -> None:
    text = "when,amount,model\n1/6/2025,$90,Tern B\n2/6/2025,$80,Tern B\n5/5/2025,$70,Tern B\n"
    _choose(table, tmp_path, text)
    table.find(".fate.ask h2", "Wait for an answer: 2")
    assert len(_fate(table, "new")) == 1
    table.tap(".import-preview .option", "1/6/2025 is 6 Jan 2025")
    table.find(".fate.new h2", "Will be taken in: 3")
    table.tap(".import-preview .option", "1/6/2025 is 1 Jun 2025")
    table.phone.until(lambda _: "1 Jun 2025" in _fate(table, "new")[0], "the other order")
    _take(table, "3 sales")
    assert [row["date"] for row in _stored(table)] == ["2025-06-02", "2025-06-01", "2025-05-05"]


@pytest.mark.parametrize(("deciding", "meant"), [("13/6/2025", "2025-06-01"), ("6/13/2025", "2025-01-06")])
def test_one_number_above_twelve_decides_for_the_whole_file(
    table: Table, tmp_path: Path, deciding: str, meant: str
) -> None:
    _choose(table, tmp_path, f"date,price,type\n1/6/2025,$90,Tern B\n{deciding},$80,Tern B\n")
    _take(table, "2 sales")
    assert {row["date"] for row in _stored(table)} == {"2025-06-13", meant}


def test_dates_that_contradict_one_another_are_refused(table: Table, tmp_path: Path) -> None:
    _choose(
        table,
        tmp_path,
        "date,price,type\n1/6/2025,$90,Tern B\n13/6/2025,$80,Tern B\n6/13/2025,$70,Tern B\n"
        "2025-06-01,$60,Tern B\n",
    )
    table.find(".fate.bad h2", "Cannot be read: 3")
    assert all("nobody can tell day and month" in row for row in _fate(table, "bad"))
    assert len(_fate(table, "new")) == 1


def test_a_file_that_does_not_say_what_they_are_is_asked_about_once(table: Table, tmp_path: Path) -> None:
    _choose(
        table,
        tmp_path,
        "Date\tPrice (EUR)\tRemarks\tLot\n2025-06-01\t90\tdrilled\t7\n2025-06\t1.234,50\t\t8\n",
    )
    table.find(".import-preview", "Not read: “Lot”")
    table.find(".fate.ask h2", "Wait for an answer: 2")
    Select(table.find(".import-preview select")).select_by_visible_text("Tern C")
    table.find(".fate.new .remark", "Taken as the first of the month")
    _take(table, "2 sales")
    rows = {row["price"]: row for row in _stored(table)}
    assert all(row["model_sheet"] == "tern-c" and row["currency"] == "EUR" for row in rows.values())
    assert (rows[1234.5]["date"], rows[90]["note"]) == ("2025-06-01", "drilled")


def test_prices_without_a_currency_are_in_the_one_shown_and_chosen(table: Table, tmp_path: Path) -> None:
    _choose(table, tmp_path, "date,price,type\n2025-06-01,90,Tern B\n")
    table.find(".import-preview .card", "1 line does not say")
    table.find(".fate.new", "$90")
    table.type(".import-preview .card input", "GBP")
    table.find(".fate.new", "£90")
    _take(table, "1 sale")
    assert [row["currency"] for row in _stored(table)] == ["GBP"]


def test_an_unknown_state_goes_into_the_note_and_the_line_says_so(table: Table, tmp_path: Path) -> None:
    _choose(
        table, tmp_path, "date,price,type,condition,note\n2025-06-01,$90,Tern B,rather rough,from a barn\n"
    )
    table.find(".fate.new .remark", "The state “rather rough” is not in the tables; it went into the note")
    _take(table, "1 sale")
    (row,) = _stored(table)
    assert (row["state"], row["note"]) == (None, "from a barn; rather rough")


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "This file is empty"),
        (b"\n\n,,\n", "This file is empty"),
        (b"hello world\nthis is no table\n", "No column of this file is called date, and none price"),
        (b"date,what\n2025-06-01,Tern B\n", "No column of this file is called price"),
        (b"PK\x03\x04\x00\x00\x00\x00", "This file is no table as text"),
        (b"date,price\n" + b"2025-06-01,9\n" * 5001, "more than 5000 lines"),
        (b"date,price\n" + b" " * 2_000_000, "larger than 2 MB"),
        (b"date,price\n", "There is no line below the names of the columns"),
    ],
    ids=["nothing", "blank", "prose", "no price", "zip", "long", "large", "head only"],
)
def test_a_file_that_is_no_table_of_sales_gets_a_sentence(
    table: Table, tmp_path: Path, content: bytes, words: str
) -> None:
    _choose(table, tmp_path, content)
    table.find(".sales-import", words)
    assert _stored(table) == []


def test_text_of_older_spreadsheets_is_read_in_its_letters(table: Table, tmp_path: Path) -> None:
    _choose(
        table, tmp_path, "date;price;type;place\r\n2025-06-01;90 €;Tern B;Ærøskøbing\r\n".encode("cp1252")
    )
    _take(table, "1 sale")
    (row,) = _stored(table)
    assert (row["place"], row["currency"]) == ("Ærøskøbing", "EUR")


def test_prices_and_dates_are_read_as_people_write_them(
    live_server: LiveServer, browser: Callable[..., Phone]
) -> None:
    phone = browser()
    phone.driver.get(live_server.url)
    prices: dict[str, tuple[float | None, str | None]] = {
        "1.234,50": (1234.5, None),
        "1,234.50": (1234.5, None),
        "1 234,50": (1234.5, None),
        "1\u202f234,50": (1234.5, None),
        "1'234.50": (1234.5, None),
        "1.500": (1500, None),
        "1,500": (1500, None),
        "1.50": (1.5, None),
        "0,500": (0.5, None),
        "12,5": (12.5, None),
        "1500,-": (1500, None),
        "1.234.567": (1234567, None),
        "€ 1.500": (1500, "EUR"),
        "90£": (90, "GBP"),
        "$90": (90, None),
        "US$ 90": (90, "USD"),
        "sek 90": (90, "SEK"),
        "90 CHF": (90, "CHF"),
        "A$ 90": (None, None),
        "12 34": (None, None),
        "1.23.45": (None, None),
        "-90": (None, None),
        "90 each": (None, None),
        "ninety": (None, None),
    }
    found = json.loads(phone.js(EACH, "readPrice", json.dumps(list(prices))))
    for (text, (price, currency)), read in zip(prices.items(), found, strict=True):
        assert read.get("price") == price, text
        assert price is None or read["currency"] == currency, text
    dates: dict[str, str | list[int] | None] = {
        "2025-06-01": "2025-06-01",
        "2025/6/1": "2025-06-01",
        "2025-06-01 10:30:00": "2025-06-01",
        "01.06.2025": "2025-06-01",
        "1. 6. 2025": "2025-06-01",
        "1/6/2025": [1, 6, 2025],
        "01-06-2025": [1, 6, 2025],
        "1 June 2025": "2025-06-01",
        "1st Jun 2025": "2025-06-01",
        "1-Jun-2025": "2025-06-01",
        "June 1, 2025": "2025-06-01",
        "Jun 1, 2025": "2025-06-01",
        "Sept. 30 2025": "2025-09-30",
        "2025-06": "2025-06-01",
        "June 2025": "2025-06-01",
        "29.02.2024": "2024-02-29",
        "29.02.2025": None,
        "1 Brumaire 2025": None,
        "1/6/25": None,
        "45809": None,
        "soon": None,
    }
    found = json.loads(phone.js(EACH, "readDate", json.dumps(list(dates))))
    for (text, date), read in zip(dates.items(), found, strict=True):
        assert (read and read.get("date", read.get("slashed"))) == date, text


def test_a_quotation_mark_that_is_never_closed_refuses_the_file_by_its_row(
    table: Table, tmp_path: Path
) -> None:
    lines = ["date,price,type,note", '2025-01-01,100,Tern B,"mint', "2025-01-02,110,Tern B,ok", ""]
    _choose(table, tmp_path, "\n".join(lines))
    table.find(".wrong", "Row 2 opens a quotation mark that is never closed")
    assert _stored(table) == []


def test_what_its_findings_took_off_and_whether_it_counts_travel_in_the_table(
    table: Table, tmp_path: Path
) -> None:
    head = "date,price,currency,type,offset,aside\n"
    _choose(table, tmp_path, head + "2025-01-01,100,USD,Tern B,-0.97,yes\n2025-01-02,90,USD,Tern B,12,\n")
    table.find(".fate.bad tbody tr", "between -10 and 10")
    _take(table, "1 sale")
    (sale,) = _stored(table)
    assert (sale["log_offset"], sale["aside"]) == (-0.97, True)
    assert table.phone.js(CSV).splitlines()[1].endswith(",-0.97,yes")


def test_a_cell_as_long_as_a_book_is_refused_at_once_and_in_brief(table: Table, tmp_path: Path) -> None:
    _choose(table, tmp_path, f"date,price,currency,type\n2025-01-01,{'1' * 60_000}x,USD,Tern B\n")
    said = table.find(".fate.bad tbody tr", "is not a number").text
    assert len(said) < 700


def test_ids_that_a_spreadsheet_would_take_for_a_formula_are_guarded(table: Table) -> None:
    table.phone.js(
        LOAD + "const { keepSale, newSale } = await load('sales');"
        "const names = { family: '=a', model_sheet: '=cmd|x', state: '@b' };"
        "await keepSale(newSale({ ...names, price: 1, currency: 'USD' }));"
    )
    assert not any(cell[:1] in "=@" for cell in table.phone.js(CSV).splitlines()[1].split(",") if cell)
