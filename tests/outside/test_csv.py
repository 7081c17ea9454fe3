"""The reader and writer of CSV on the phone, against Python's csv module.

Source: csv, the Python standard library (https://docs.python.org/3/library/csv.html), an implementation of
RFC 4180 that others wrote and that millions of spreadsheets have met. The script runs in a real browser.
"""

import csv
import io
import json
import random

from tests.support.phone import Phone

Table = list[list[str]]

TABLES = 400
PIECES = (
    "", "a", "Tern B", "1,5", "1.234,50", "12;5", "x\ty", '"', '""', 'a "b" c', "\n", "\r\n", "\r", " ",
    "'=1+1", "Ærø, 5 €", "日本", "\u00a0", "-", "end\n",
)  # fmt: skip
# Text that no writer makes, and that a reader meets all the same.
ODD = (
    'date,price\n"a"b,c\n',
    'date,price\n"a"b"c",d',
    'date,price\na"b,"c"',
    'date,price\n ,"never closed\nand on',
    "date,price\n\n\n,\n,,\n",
    'date,price\n""\n"",""\n"""",x',
    "date;price\r1,5;2\r\r\n3;4",
    "date\tprice\t\n1\t2\t",
)
LOAD = "const csv = await import(`${document.documentElement.dataset.base}js/store/csv.js`);"
PARSE = (
    LOAD + "return JSON.stringify(JSON.parse(args[0]).map((text) => {"
    "const { delimiter, rows } = csv.parseCsv(text); return { delimiter, rows }; }));"
)
WRITE = LOAD + "return JSON.stringify(JSON.parse(args[0]).map(csv.writeCsv));"


def run(phone: Phone, script: str, given: list[str] | list[Table]) -> list:  # type: ignore[type-arg]
    found: list[object] = json.loads(phone.js(script, json.dumps(given)))
    assert len(found) == len(given)
    return found


def table(rng: random.Random) -> Table:
    """A header of at least two names, and up to six rows of any lengths and contents."""
    header = rng.sample(["date", "price", "what", "place and day", "note"], rng.randint(2, 5))
    rows = [
        ["".join(rng.choices(PIECES, k=rng.randint(0, 3))) for _ in range(rng.randint(0, 5))]
        for _ in range(rng.randint(0, 6))
    ]
    return [header, *rows]


def read(text: str, delimiter: str) -> Table:
    return list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter))


def test_random_tables_are_read_as_the_library_reads_them(opened_phone: Phone) -> None:
    texts, delimiters = [], []
    for seed in range(TABLES):
        rng = random.Random(seed)
        delimiter = rng.choice([",", ";", "\t"])
        out = io.StringIO(newline="")
        quoting = rng.choice([csv.QUOTE_MINIMAL, csv.QUOTE_ALL, csv.QUOTE_NONNUMERIC])
        ending = rng.choice(["\n", "\r\n", "\r"])
        writer = csv.writer(out, delimiter=delimiter, quoting=quoting, lineterminator=ending)
        writer.writerows(table(rng))
        # The last line may lack its end, as hands leave it.
        texts.append(out.getvalue().removesuffix(ending) if rng.random() < 0.3 else out.getvalue())
        delimiters.append(delimiter)
    for text, delimiter, found in zip(texts, delimiters, run(opened_phone, PARSE, texts), strict=True):
        assert found == {"delimiter": delimiter, "rows": read(text, delimiter)}, text


def test_text_that_breaks_the_rules_is_read_as_the_library_reads_it(opened_phone: Phone) -> None:
    for text, found in zip(ODD, run(opened_phone, PARSE, list(ODD)), strict=True):
        delimiter = next(mark for mark in ",;\t" if mark in text.splitlines()[0])
        assert found == {"delimiter": delimiter, "rows": read(text, delimiter)}, text


def test_what_the_phone_writes_the_library_reads_back(opened_phone: Phone) -> None:
    tables = [table(random.Random(seed)) for seed in range(TABLES)]
    for rows, text in zip(tables, run(opened_phone, WRITE, tables), strict=True):
        assert read(text, ",") == rows, text
        # Lines end as RFC 4180, section 2, has it.
        assert text.endswith("\r\n")


def test_the_phone_reads_back_what_it_wrote(opened_phone: Phone) -> None:
    tables = [table(random.Random(seed)) for seed in range(TABLES)]
    written = run(opened_phone, WRITE, tables)
    assert [found["rows"] for found in run(opened_phone, PARSE, written)] == tables
