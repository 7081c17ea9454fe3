"""Two devices and the server: what was found in the field meets the home computer, and nothing is lost."""

from pathlib import Path

import pytest
from selenium.webdriver.common.by import By

from tests.support import album
from tests.support.phone import NO_SERVER, Phone
from tests.support.server import LiveServer
from tests.support.snapshots import snapshot
from tests.support.table import Table
from tests.support.two_devices import LOAD, WORDS, Device, meet, same_rows


@pytest.fixture
def away(field: Table, signal: LiveServer) -> Device:
    """A device with the app kept whole, with a signal at first; `signal` stops and starts it."""
    signal.start()
    return Device(field.phone, signal)


def test_two_devices_that_answered_the_same_check_differently_show_both_and_let_one_choose(
    away: Device, signal: LiveServer, other_phone: Phone
) -> None:
    field, home = away, Device(other_phone, signal)
    home.open()
    walk = field.new_set()
    field.answer("dial", "Gone")
    field.begin_backup("Field phone")
    home.share(field, "Home computer")
    home.open(walk)
    assert "Gone" in home.said("dial")
    for person in (field, home):
        person.phone.expected.append(NO_SERVER)
    signal.stop()
    field.phone.cold_start()
    field.open(walk)
    field.answer("loading-coil", "Gone")
    home.answer("loading-coil", "There, turns tight")
    home.answer("relays", "There and wired")
    signal.start()
    meet(field, home)
    same_rows((field, home), "sets", "findings", "standing")
    for person in (field, home):
        person.open(walk)
        card = person.find(".differs", "Two devices differ").text
        assert "Aerial loading coil" in card
        assert card.index("There, turns tight") < card.index("Home computer") < card.index("counts now")
        assert card.index("counts now") < card.index("Gone, empty corner") < card.index("Field phone")
    assert "There" in field.said("loading-coil")
    assert "There" in field.said("relays")

    field.tap(".differs .head-choice:nth-of-type(2) .button", "Let this stand")
    field.phone.until(lambda _: "Gone" in field.said("loading-coil"), "the choice to count")
    meet(field, home)
    home.phone.until(lambda _: "Gone" in home.said("loading-coil"), "the choice to count there too")
    assert not home.phone.driver.find_elements(By.CSS_SELECTOR, ".differs")
    same_rows((field, home), "sets", "findings", "standing")
    home.open(f"#/history/{walk.split('/')[2]}")
    coil = [
        row.text for row in home.phone.driver.find_elements(By.CSS_SELECTOR, ".entry") if "coil" in row.text
    ]
    assert [words.split("\n")[1][:4] for words in coil] == ["Gone", "There"[:4], "Gone"]
    assert [("Field phone" in words, "Home computer" in words) for words in coil] == [
        (True, False), (False, True), (True, False),
    ]  # fmt: skip


def test_each_set_says_whether_it_is_on_this_device_only_waits_or_is_backed_up(
    away: Device, signal: LiveServer
) -> None:
    person = away
    walk = person.new_set()
    person.answer("dial", "Gone")
    person.open()
    person.find(".set-row", "On this device only")
    person.begin_backup("Field phone")
    person.open()
    person.find(".set-row [data-state]", "Backed up")
    person.find(".keeping", "The notebook: backed up.")
    person.phone.expected.append(NO_SERVER)
    signal.stop()
    person.open(walk)
    person.answer("loading-coil", "Gone")
    person.back_up()
    person.find("[data-state]", "Could not be backed up yet: No signal, or the server does not answer.")
    person.open()
    person.find(".set-row", "Could not be backed up yet: No signal")
    signal.start()
    person.back_up()
    person.phone.until(
        lambda _: person.find(".set-row [data-state]").text == "Backed up", "the set to be backed up"
    )


def test_photos_follow_their_findings_and_each_set_says_how_many_are_backed_up(
    devices: list[Device], tmp_path: Path
) -> None:
    field, home = devices
    walk = field.new_set()
    field.answer("dial", "Gone")
    for seed, name in enumerate(("one", "two")):
        album.add(field, "dial", snapshot(tmp_path / f"{name}.jpg", seed=seed))
    field.begin_backup("Field phone")
    home.share(field, "Home computer")
    home.open(walk)
    home.find("#check-dial [data-count='2']")
    same_rows((field, home), "standing")
    mine, theirs = (
        [(photo["id"], photo["sha256"], photo["bytes"]) for photo in person.rows("photos")]
        for person in (field, home)
    )
    assert mine == theirs
    assert len(mine) == 2
    assert {row["id"] for row in home.rows("photo_files")} == {name for name, _, _ in mine}
    home.open("#/backup")
    home.tap(".backup .button", "See what the server holds")
    assert "2 of 2 photos" in home.find(".held li", "Tern B").text


def test_a_key_that_is_scanned_leaves_the_address_and_asks_before_anything_is_shared(
    devices: list[Device], pair_server: LiveServer
) -> None:
    field, home = devices
    field.new_set()
    field.begin_backup("Field phone")
    own = home.new_set("Tern C")
    home.open(f"#/join/{field.key}")
    home.find(".card", "That notebook holds 1 set and 0 photos. This device has 1 set.")
    assert home.phone.driver.current_url.endswith("/#/join")
    assert home.key == ""
    home.tap(".button.strong", "Share this notebook")
    home.until_backed_up()
    home.open()
    home.find(".set-row", "Tern B")
    meet(home, field)
    field.open(own)
    field.find(".top h1", "Tern C")
    assert field.key not in pair_server.log.read_text()


def test_a_replaced_key_opens_nothing_and_the_other_device_comes_back_with_the_new_one(
    devices: list[Device],
) -> None:
    field, home = devices
    walk = field.new_set()
    field.begin_backup("Field phone")
    home.share(field, "Home computer")
    old = field.key
    field.open("#/backup")
    field.tap(".backup .button", "Replace the key")
    field.tap(".backup .button", "Yes, make a new key")
    field.find(".notice", "The key was replaced")
    assert field.key != old
    home.phone.expected.append("401")
    home.open(walk)
    home.answer("dial", "Gone")
    home.back_up()
    home.open("#/backup")
    home.find(".backup [role=status]", "replaced")
    home.type(".backup textarea", " ".join(field.phone.js(WORDS, field.key)))
    home.take_part()
    field.back_up()
    field.open(walk)
    assert "Gone" in field.said("dial")


def test_the_key_is_shown_again_as_words_and_symbol_also_without_a_signal(
    away: Device, signal: LiveServer
) -> None:
    """A pairing code that worked once and was never to be seen again locked people out."""
    person = away
    person.begin_backup("Field phone")
    person.tap(".backup .button", "Show the key")
    person.find(".key-symbol")
    shown = [word.text for word in person.phone.driver.find_elements(By.CSS_SELECTOR, ".key-words li")]
    assert shown == person.phone.js(WORDS, person.key)
    person.phone.expected.append(NO_SERVER)
    signal.stop()
    person.phone.cold_start()
    person.open("#/backup")
    person.tap(".backup .button", "Show the key")
    person.find(".key-symbol")
    words = person.phone.driver.find_elements(By.CSS_SELECTOR, ".key-words li")
    assert [word.text for word in words] == shown


def test_a_set_removed_on_one_device_is_said_on_the_other_and_comes_back_with_one_tap(
    devices: list[Device],
) -> None:
    field, home = devices
    walk = field.new_set()
    field.answer("dial", "Gone")
    field.begin_backup("Field phone")
    home.share(field, "Home computer")
    field.open()
    field.tap(".set-row .button", "Remove")
    field.find(".notice", "removed")
    field.back_up()
    home.open()
    home.back_up()
    home.tap(".notice .button", "Bring it back")
    home.find(".set-row", "Tern B")
    meet(home, field)
    field.open(walk)
    assert "Gone" in field.said("dial")
    same_rows((field, home), "sets", "findings", "standing")


def test_a_wrong_word_is_named_and_words_that_do_not_belong_together_are_refused(
    devices: list[Device],
) -> None:
    person = devices[0]
    person.open("#/backup")
    right = person.phone.js(WORDS, "00112233445566778899aabbccddeeff")
    for typed, said in (
        ([*right[:4], "brigde", *right[5:]], 'Word 5, "brigde", is not one of the list. Was it "brick"?'),
        (right[:11], "A key has 12 words; here are 11."),
        ([right[1], right[0], *right[2:]], "These words do not belong together"),
    ):
        person.type(".backup textarea", " ".join(typed))
        person.tap(".backup .button", "Look at that notebook")
        person.find(".backup .wrong", said)
    short = " ".join(f"{place}. {word[:4].upper()}" for place, word in enumerate(right, 1))
    key = LOAD + "return (await load('sync/key')).keyOf(args[0]);"
    assert person.phone.js(key, short) == "00112233445566778899aabbccddeeff"


def test_a_lost_answer_makes_no_duplicate(devices: list[Device]) -> None:
    """The server answered with an error although it had stored; the next sync saw a conflict."""
    person = devices[0]
    person.begin_backup("Field phone")
    person.open()
    person.new_set()
    person.answer("dial", "Gone")
    lose = """
    const real = window.fetch;
    window.fetch = async (address, request) => {
      const answer = await real(address, request);
      if (!String(address).endsWith('/exchange')) return answer;
      window.fetch = real;
      throw new TypeError('the connection broke after the server had stored');
    };
    """
    person.phone.js(lose)
    person.back_up()
    assert [row for row in person.rows("operations") if "waiting" in row]
    person.back_up()
    assert not [row for row in person.rows("operations") if "waiting" in row]
    assert not [row for row in person.rows("standing") if "differs" in row or len(row["heads"]) > 1]
    held = LOAD + "return (await load('sync/membership')).contents(args[0]);"
    assert person.phone.js(held, person.key)["operations"] == len(person.rows("operations"))
