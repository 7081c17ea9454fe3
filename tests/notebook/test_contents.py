"""What the server says it holds, set by set."""

from tests.support.server_phone import ServerPhone, a_photo, an_operation
from webapp.notebook.merging import merged


def test_sets_are_listed_last_changed_first_with_what_is_held_of_their_photos(phone: ServerPhone) -> None:
    held, waiting, removed = a_photo(), a_photo(), a_photo()
    phone.send_photo(*held)
    phone.send_photo(*removed)
    phone.send_part(*waiting, 0, 500)
    older = an_operation("ab12", {"family": "frequency-meter", "created": 1})
    newer = an_operation("cd34", {"family": "control-box", "created": 2, "removed": True})
    title = an_operation("ab12/title", "Meter from the barn")
    renamed = an_operation("ab12/title", "Meter, cleaned", after=[title["id"]])
    finding = an_operation("ab12/check/dial", "cracked")
    photos = [
        an_operation(
            f"p{number}", {"set": "ab12", "sha256": sha256, "removed": sha256 == removed[0]}, kind="photos"
        )
        for number, (sha256, _) in enumerate((held, waiting, removed))
    ]
    last = an_operation("cd34/check/knobs", "gone")
    phone.send(older, newer, title, renamed, finding, *photos, last)
    contents = phone.ask("GET", "/contents").json
    assert contents["sets"] == [
        {"id": "cd34", "title": "", "family": "control-box", "changed": last["time"], "removed": True,
         "findings": 1, "photos": 0, "photos_held": 0},
        {"id": "ab12", "title": "Meter, cleaned", "family": "frequency-meter", "changed": photos[-1]["time"],
         "removed": False, "findings": 2, "photos": 2, "photos_held": 1},
    ]  # fmt: skip
    assert (contents["operations"], contents["photos"]) == (9, {"count": 3, "bytes": 3000})
    assert contents["limits"] == {
        "operations": 500_000, "bytes": 200_000_000, "photos": 20_000, "photo_bytes": 4_000_000_000,
    }  # fmt: skip
    assert contents["bytes"] > 9 * 200


def test_175_records_arrived_and_160_of_their_photos_and_the_set_says_so(phone: ServerPhone) -> None:
    photos = [a_photo(10) for _ in range(17)]
    phone.send(an_operation("ab12", {"family": "x"}))
    rows = [
        an_operation(f"p{number}", {"set": "ab12", "sha256": photo[0]}, kind="photos")
        for number, photo in enumerate(photos)
    ]
    phone.send(*rows)
    for photo in photos[:16]:
        phone.send_photo(*photo)
    [listed] = phone.ask("GET", "/contents").json["sets"]
    assert (listed["photos"], listed["photos_held"]) == (17, 16)


def test_what_cannot_be_read_counts_as_absent(phone: ServerPhone) -> None:
    phone.send(
        an_operation("ab12", ["no object"]),
        an_operation("ab12/title", {"no": "text"}),
        an_operation("cd34", {"family": 7, "removed": 0}),
        an_operation("p1", "no object", kind="photos"),
        an_operation("p2", {"set": 5, "sha256": [1]}, kind="photos"),
        an_operation("p3", {"set": "zero\0", "sha256": None}, kind="photos"),
        an_operation("ef56/check/dial", "a finding that came before its set"),
    )
    listed = phone.ask("GET", "/contents").json["sets"]
    assert {entry["id"]: (entry["title"], entry["family"], entry["photos"]) for entry in listed} == {
        "ab12": ("", "", 0),
        "cd34": ("", "", 0),
    }


def test_merging_field_by_field_made_a_record_nobody_had_entered_and_here_one_of_the_two_stands_whole() -> (
    None
):
    base = an_operation(value={"option": "as-made", "note": ""})
    mine = an_operation(value={"option": "gone", "note": ""}, after=[base["id"]])
    theirs = an_operation(value={"option": "as-made", "note": "stiff"}, after=[base["id"]])
    [record] = merged([theirs, base, mine, theirs]).values()
    assert record.in_conflict
    assert list(record.heads) == [theirs, mine]
    assert record.standing["value"] == theirs["value"]


def test_the_later_write_won_and_the_earlier_is_still_a_head() -> None:
    earlier, later = an_operation(value="cracked"), an_operation(value="gone")
    [record] = merged([later, earlier]).values()
    assert [head["value"] for head in record.heads] == ["gone", "cracked"]
    settled = an_operation(value="cracked", after=[later["id"], earlier["id"]])
    [record] = merged([settled, later, earlier]).values()
    assert (list(record.heads), record.in_conflict) == ([settled], False)


def test_two_devices_that_say_the_same_are_no_conflict() -> None:
    [record] = merged([an_operation(value={"a": 1, "b": 2.0}), an_operation(value={"b": 2, "a": 1})]).values()
    assert not record.in_conflict
    [record] = merged([an_operation(value=1), an_operation(value=True)]).values()
    assert record.in_conflict


def test_operations_of_one_moment_stand_by_device_and_then_by_id() -> None:
    first = an_operation(time=5, device="a" * 24, id="f" * 24)
    second = an_operation(time=5, device="b" * 24, id="1" * 24)
    third = an_operation(time=5, device="b" * 24, id="2" * 24)
    for order in ([first, second, third], [third, first, second]):
        [record] = merged(order).values()
        assert list(record.heads) == [third, second, first]


def test_operations_that_replace_one_another_all_stand() -> None:
    first, second = an_operation(value=1), an_operation(value=2)
    ring = [{**first, "after": [second["id"]]}, {**second, "after": [first["id"], second["id"]]}]
    [record] = merged(ring).values()
    assert len(record.heads) == 2
