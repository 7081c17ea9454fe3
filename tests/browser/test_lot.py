"""A bulk lot on the phone: sets come in, the quick round, the plan, and what becomes of all of it."""

import json
import re
from pathlib import Path

from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from tests.support.phone import NO_SERVER
from tests.support.server import LiveServer
from tests.support.snapshots import snapshot
from tests.support.table import Table
from tests.support.two_devices import LOAD, ROWS

MOST_TAPS = 9
EXPORT = LOAD + "return JSON.stringify(await (await load('store/exporting')).exportDocument());"

IMPORT = LOAD + "await (await load('store/importing')).importNotebook(new Blob([args[0]]));"
# Every third set is a wreck with a good loading coil; the others lack theirs and are fine otherwise.
WALKED = (
    LOAD
    + """
const { keepLot, openLot, setsOfLot } = await load('store/lots');
const { prepareFor } = await load('store/packs');
await keepLot({ ...await openLot(args[0]), name: 'Petrel Street', asking: 900, margin: 0.25 });
for (const [index, foundSet] of (await setsOfLot(args[0])).entries()) {
  const { pack } = await prepareFor(foundSet.base.family, foundSet.base.model_sheet);
  const wreck = index % 3 === 0;
  const seen = pack.checks.filter((check) => check.part && !check.asks && !check.shown_if);
  const found = ({ id, options }) => options.at(id === 'loading-coil' === wreck ? 0 : -1).id;
  const answers = seen.map((check) => [`check/${check.id}`, { option: found(check) }]);
  await foundSet.putAll(Object.fromEntries(answers));
}
"""
)
# What another tab may do meanwhile.
OTHERS_ADD = (
    LOAD
    + """
const { addSets, openLot } = await load('store/lots');
const kind = { family: 'aircraft-hf-transmitter', model_sheet: 'tern-b', title: 'Tern B' };
await addSets(await openLot(args[0]), kind, [{ number: '0', label: null }]);
window.dispatchEvent(new Event('underchassis-changed'));
"""
)
OTHERS_REMOVE = (
    LOAD
    + """
await (await load('store/lots')).binLot(args[0], true);
window.dispatchEvent(new Event('underchassis-changed'));
"""
)
# Another device went on with the lot while this one removed it with its sets.
OTHERS_KEEP = (
    LOAD
    + """
const { keepLot, openLot } = await load('store/lots');
await keepLot({ ...await openLot(args[0]), name: 'x'.repeat(120), removed: false });
window.dispatchEvent(new Event('underchassis-changed'));
"""
)
CSV = (
    LOAD
    + """
const { view } = await (await load('ui/lot_planned')).planned(args[0]);
return (await load('store/lot_export')).lotCsv(view);
"""
)


def begin_lot(table: Table, count: int = 12, first: str = "1") -> str:
    """A lot with sets of one kind, made from the notebook; gives its address part `#/lot/…`."""
    table.open()
    table.tap(".notebook > .button", "New lot")
    add_many(table, count, first)
    return "#" + table.phone.driver.current_url.partition("#")[2].removesuffix("/add")


def add_many(table: Table, count: int, first: str) -> None:
    """Add many sets at once, on the page for it."""
    table.type(".lot-add input[name=many]", str(count))
    table.type(".lot-add input[name=first]", first)
    table.tap(".lot-add .button", "Add them all")
    table.find(".lot-said", f"{count} sets added")


def rows(table: Table, store: str) -> list[dict[str, object]]:
    """The rows of a store."""
    kept: list[dict[str, object]] = json.loads(table.phone.js(ROWS, store))
    return kept


def texts(table: Table, css: str) -> list[str]:
    """The words of all elements of a kind."""
    return [element.text for element in table.phone.driver.find_elements(By.CSS_SELECTOR, css)]


def dollars(amount: str) -> float:
    """An amount as it is shown, with its sign."""
    return float(re.sub("[^0-9.-]", "", amount.replace("\N{MINUS SIGN}", "-")))


def press(table: Table, css: str, words: str = "") -> None:
    """Press a button by key: a finger twice in one place is taken for one that bounced."""
    table.find(css, words).send_keys(Keys.ENTER)


def test_twelve_labelled_sets_come_in_at_once_and_show_under_their_lot_alone(table: Table) -> None:
    table.new_set("Tern A")
    lot = begin_lot(table, 12, "K7Q2-001")
    table.open()
    table.find(".lot-row", "12 sets, none looked at")
    assert len(texts(table, ".set-row")) == 2
    assert "Tern A" in texts(table, ".set-row")[1]
    table.type("input[type=search]", "k7q2-007")
    table.phone.until(lambda _: len(texts(table, ".set-row")) == 1, "the lot of that label")
    table.tap(".lot-row .row-link")
    table.phone.until(lambda _: len(texts(table, ".lot-line")) == 12, "the sets of the lot")
    assert sorted(texts(table, ".lot-number"), key=int) == [str(number) for number in range(1, 13)]
    labels = {row["value"] for row in rows(table, "findings") if row["key"] == "label"}
    assert labels == {f"K7Q2-{number:03}" for number in range(1, 13)}
    table.tap(".lot-line .lot-link", "K7Q2-007")
    table.find("main[data-page='set'] .bar")
    table.tap(".top .back")
    table.find(".lot-line")
    assert lot in table.phone.driver.current_url


def test_numbers_and_labels_that_are_taken_are_refused_and_a_label_brings_its_set_along(
    table: Table, tmp_path: Path
) -> None:
    table.new_set("Tern C")
    table.tap(".top .button", "About it")
    field = "[aria-label='Photos and label'] input[maxlength='20']"
    table.type(field, "K7Q2-020")
    table.until_saved()
    begin_lot(table, 3, "1")
    for typed, words in (
        ("2", "No. 2 is in this lot already. The next free number is 4."),
        ("", "Write a number of at most 20 letters"),
    ):
        table.type(".lot-add input[name=one]", typed)
        press(table, ".lot-add .button", "Add it")
        table.find(".wrong", words)
    for count, first, words in (
        ("0", "9", "from 1 to 200"),
        ("12", "K7Q2-995", "from K7Q2-995 on there are 5"),
        ("9", "K7Q2-015", "Another set has the label K7Q2-020 already: Tern C."),
        ("9", "barn", "a number that counts on"),
    ):
        table.type(".lot-add input[name=many]", count)
        table.type(".lot-add input[name=first]", first)
        press(table, ".lot-add .button", "Add them all")
        table.find(".wrong", words)
    files = [snapshot(tmp_path / f"{label}.jpg", label) for label in ("K7Q2-020", "K7Q2-021")]
    table.phone.driver.find_element(By.CSS_SELECTOR, ".lot-add input[type=file]").send_keys(
        "\n".join(map(str, files))
    )
    said = table.find(".lot-said", "No. 21 is in the lot").text
    assert "Tern C was in the notebook already; now it is no. 20 of this lot." in said
    assert len(rows(table, "sets")) == 5
    table.find(".lot-add input[name=one]").click()
    table.find(".lot-add input[name=one]").send_keys("k7q2 20")
    press(table, ".lot-add .button", "Add it")
    table.find(".wrong", "K7Q2-020 is in this lot already: Tern C.")


def test_a_removed_lot_leaves_its_sets_or_takes_them_along_and_comes_back_with_them(table: Table) -> None:
    lot = begin_lot(table, 3)
    for choice, singles in (("Keep the 3 sets", 3), ("Remove the 3 sets too", 0)):
        table.open(lot)
        table.tap(".top .button", "About it")
        table.type("input[name=asking]", f"{singles}50")
        table.until_saved()
        table.tap(".confirm .button", "Remove this lot")
        table.tap(".confirm .button", choice)
        table.find(".notice", "removed")
        table.phone.until(lambda _, wanted=singles: len(texts(table, ".set-row")) == wanted, "what is left")
        table.open("#/bin")
        table.find(".top h1", "Removed")
        # The list is drawn anew once the removal is told; a tap must not fall between.
        table.reload()
        table.find(".set-row .button", "Bring back")
        assert len(texts(table, ".set-row")) == 1
        assert texts(table, ".set-row .fine")[0].startswith("Lot · Removed: ")
        table.tap(".set-row .button", "Bring back")
        table.find(".page p", "Nothing was removed.")
        table.open(lot)
        table.phone.until(lambda _: len(texts(table, ".lot-line")) == 3, "the lot with its sets")
        assert rows(table, "lots")[0]["asking"] == int(f"{singles}50"), "what was typed before is kept"
    table.phone.js(OTHERS_REMOVE, lot.split("/")[2])
    table.phone.js(OTHERS_KEEP, lot.split("/")[2])
    table.open("#/bin")
    table.phone.until(lambda _: len(texts(table, ".set-row .button")) == 3, "the sets without their lot")
    table.open()
    table.find(".lot-row", "xxx")
    assert table.phone.js("return document.documentElement.scrollWidth;") <= 360, "a long name keeps within"


def test_a_lot_and_the_shelf_travel_in_the_exported_file(table: Table) -> None:
    lot = begin_lot(table, 2)
    table.tap(".links .button", "To the lot")
    table.tap(".top .button", "About it")
    for name, typed in (("asking", "450"), ("margin", "25"), ("hours_limit", "40")):
        table.type(f"input[name={name}]", typed)
    table.until_saved()
    table.open("#/shelf")
    table.tap(".shelf .button", "Put it there")
    table.find(".shelf .set-row")
    document = table.phone.js(EXPORT)
    file = json.loads(document)
    assert {key: file["lots"][0][key] for key in ("asking", "margin", "hours_limit")} == {
        "asking": 450,
        "margin": 0.25,
        "hours_limit": 40,
    }
    for _ in range(2):
        table.phone.js(IMPORT, document)
    assert [len(rows(table, store)) for store in ("lots", "shelf", "sets")] == [1, 1, 2]
    table.forget()
    table.open()
    table.phone.js(IMPORT, document)
    table.open(lot)
    table.phone.until(lambda _: len(texts(table, ".lot-line")) == 2, "the lot from the file")
    file["lots"][0]["margin"] = 2
    table.phone.js(
        LOAD
        + "const { importNotebook } = await load('store/importing');"
        + "await importNotebook(new Blob([args[0]])).then(() => { throw new Error('taken in'); },"
        + " ({ message }) => { if (!message.startsWith('Lot 1 in this file is damaged.')) throw message; });",
        json.dumps(file),
    )


def test_the_quick_round_asks_one_thing_at_a_time_and_keeps_each_tap(table: Table) -> None:
    lot = begin_lot(table, 2)
    table.tap(".links .button", "Quick round")
    table.find(".top h1", "Set 1 of 2 · no. 1")
    asked: list[str] = []
    while not texts(table, ".round-enough"):
        asked.append(table.find(".round-question h2").text)
        assert not table.phone.js("return document.documentElement.scrollHeight > window.innerHeight + 1;"), (
            asked[-1]
        )
        press(table, ".round-options .option")
        table.phone.until(
            lambda _: texts(table, ".round-enough") or texts(table, ".round-question h2") != asked[-1:],
            "the next question",
        )
    table.until_saved()
    assert 0 < len(asked) < MOST_TAPS
    table.find(".round-enough", "Enough is known")
    kept = [row for row in rows(table, "findings") if str(row["key"]).startswith("check/")]
    assert len(kept) == len(asked)

    press(table, ".round-foot .button", "Back")
    assert table.find(".round-question h2").text == asked[-1]
    table.until_saved()
    press(table, ".round-foot .button", "Not now")
    table.find(".round-enough", "One question was put off")
    press(table, ".round-foot .button", "Back")
    assert table.find(".round-question h2").text == asked[-1]
    press(table, ".round-foot .button", "Not now")
    press(table, ".round-on", "Next set")
    table.find(".top h1", "Set 2 of 2 · no. 2")
    press(table, ".round-foot .button", "Back")
    table.find(".top h1", "Set 1 of 2 · no. 1")
    press(table, ".round-on", "Next set")
    kept = [row for row in rows(table, "findings") if str(row["key"]).startswith("check/") and row["value"]]
    assert len(kept) == len(asked) - 1, "going back and forth takes no answer back"
    table.reload()
    table.find(".top h1", "Set 2 of 2 · no. 2")
    table.phone.js(OTHERS_ADD, lot.split("/")[2])
    table.find(".top h1", "Set 3 of 3 · no. 2")
    press(table, ".round-foot .button", "To the lot")
    table.find(".lot-line")
    assert table.phone.driver.current_url.endswith(lot)
    table.find(".top .sub", "3 sets, 1 looked at")
    table.open(f"{lot}/round")
    table.find(".round-question")
    table.phone.js(OTHERS_REMOVE, lot.split("/")[2])
    table.find(".page h1", "This lot was removed")


def test_the_plan_says_who_gives_what_to_whom_and_the_most_to_bid(table: Table) -> None:
    lot = begin_lot(table)
    table.phone.js(WALKED, lot.split("/")[2])
    title = (
        LOAD
        + "await (await load('store/lots')).setsOfLot(args[0]).then(([one]) => one.put('title', '=1+1'));"
    )
    table.phone.js(title, lot.split("/")[2])
    table.open(lot)
    table.find(".lot-solving", "The best plan there is, proven.")
    assert "Bid at most $" in table.find(".lot-bar").text
    assert "they ask $900 · $75 a set" in table.find(".lot-bar").text
    table.tap(".lot-orders .option", "No.")
    assert texts(table, ".lot-number") == [str(number) for number in range(1, 13)]
    table.tap(".lot-orders .option", "Way")
    ways = [words.split(" · ")[0] for words in texts(table, ".lot-what .fine:nth-child(2)")]
    assert ways == sorted(ways, key=["Complete", "Break", "Keep as it is"].index)
    assert {"Complete", "Break"} <= set(ways)

    table.tap(".lot-bar .to-verdict")
    assert "donor" in str(table.find(".lot-drawing").get_attribute("aria-label"))
    table.find(".lot-exchange", "aerial loading coil from no. ")
    table.find(".lot-plan .row-link", " s · $")
    table.tap(".lot-plan summary", "How this comes")
    first, *steps, worth, margin = map(dollars, texts(table, ".lot-sum .fine"))
    assert abs(first + sum(steps) - worth) < worth / 50
    assert -0.27 < margin / worth < -0.23
    table.open(f"{lot}/pick")
    given = table.find(".pick", "Give:").text
    cautions = [one.text for one in table.phone.driver.find_elements(By.CSS_SELECTOR, ".lot-pick .caution")]
    assert len(cautions) == len(set(cautions)) > 0
    assert "aerial loading coil, to no. " in given
    head, first, *_, last = table.phone.js(CSV, lot.split("/")[2]).split("\r\n")
    assert head.startswith("number,label,name,type,way,worth,low,high,")
    assert first.startswith("1,,'=1+1,Tern ")
    assert last == ""


def test_without_a_signal_a_quick_plan_stands_and_the_proven_one_comes_with_it(
    field: Table, signal: LiveServer
) -> None:
    field.phone.expected.append(NO_SERVER)
    lot = begin_lot(field)
    field.tap(".links .button", "Quick round")
    press(field, ".round-options .option")
    field.until_saved()
    field.phone.js(WALKED, lot.split("/")[2])
    field.open(lot)
    field.find(".lot-solving", "A quick plan, made on this phone.")
    field.find(".lot-solving", "The best one comes with a signal.")
    assert "Bid at most $" in field.find(".lot-bar").text
    signal.start()
    field.tap(".lot-solving .button", "Try now")
    field.find(".lot-solving", "The best plan there is, proven.")
    signal.stop()
    field.open(f"{lot}/plan")
    field.find(".lot-solving", "The best plan there is, proven.")


def test_looking_for_the_best_plan_can_be_cancelled(table: Table) -> None:
    lot = begin_lot(table)
    table.tap(".links .button", "To the lot")
    table.find(".lot-solving", "proven")
    line = table.phone.driver.execute_cdp_cmd  # type: ignore[attr-defined]
    slow = {"offline": False, "latency": 4000, "downloadThroughput": -1, "uploadThroughput": -1}
    line("Network.enable", {})
    line("Network.emulateNetworkConditions", slow)
    try:
        table.phone.js(WALKED, lot.split("/")[2])
        table.phone.js("window.dispatchEvent(new Event('underchassis-changed'));")
        table.find(".lot-running progress")
        table.tap(".lot-running .button", "Cancel")
        table.find(".lot-solving", "Cancelled; this plan stands.")
        table.find(".lot-solving", "A quick plan")
    finally:
        line("Network.emulateNetworkConditions", slow | {"latency": 0})
        line("Network.disable", {})
    table.tap(".lot-solving .button", "Try now")
    table.find(".lot-solving", "proven")


FITTING = (
    LOAD
    + """
const { waysFit } = await load('sync/lot_solving');
const sets = [{ completes: [] }, { completes: [{}] }];
return JSON.parse(args[0]).map((choice) => waysFit({ sets }, choice));
"""
)


def test_ways_that_do_not_fit_the_lot_are_never_taken_from_a_server(table: Table) -> None:
    choices = [[0, 2], [1, 0], [0, 3], [2, 0], [0], [0, 0, 0], [0, 0.5], [0, -1], "00", None]
    table.open()
    fit = table.phone.js(FITTING, json.dumps(choices))
    assert fit == [True, True] + [False] * 8


ANSWERED = (
    LOAD
    + """
const { solveLot } = await load('sync/lot_solving');
const real = window.fetch;
window.fetch = async () => new Response(args[0], { status: args[1] });
const more = { progress() {}, signal: new AbortController().signal };
const said = await solveLot({ sets: [{ completes: [] }] }, null, more).catch((problem) => problem.message);
window.fetch = real;
return said;
"""
)


def test_an_answer_that_no_server_of_this_app_gives_is_told_in_words(table: Table) -> None:
    table.open()
    for body, status in (
        ("<h1>Log in</h1>", 200),
        ('{"choice": [0', 200),
        ("<h1>No</h1>", 500),
        ('{"error": 5}', 200),
    ):
        assert str(table.phone.js(ANSWERED, body, status)).startswith("Something between this device"), body
    broken = '{"best": 1, "bound": 2}\n{"error": {"message": "Not solved.", "hint": "It stands."}}\n'
    assert table.phone.js(ANSWERED, broken, 200) == "Not solved. It stands."
