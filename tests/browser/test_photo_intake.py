"""What becomes of a chosen file before it is stored: upright, small, without metadata, or a sentence."""

import base64
import io
from collections.abc import Callable
from pathlib import Path

import pytest
from PIL import Image, ImageChops, ImageStat

from tests.support import album
from tests.support.phone import NO_SERVER
from tests.support.snapshots import (
    BLUE,
    GREEN,
    MAKER,
    RED,
    WHITE,
    heic,
    quarters,
    snapshot,
    turned_with_position,
)
from tests.support.table import Table

Colour = tuple[int, ...]


def _corners(image: Image.Image) -> list[Colour]:
    width, height = image.size
    points = [(x, y) for y in (height // 8, height * 7 // 8) for x in (width // 8, width * 7 // 8)]
    return [image.convert("RGB").getpixel(point) for point in points]  # type: ignore[misc]


def _near(found: list[Colour], wanted: list[Colour]) -> bool:
    pairs = zip(found, wanted, strict=True)
    return all(abs(a - b) <= 12 for one, other in pairs for a, b in zip(one, other, strict=True))


def test_a_photo_is_stored_upright_and_nothing_tells_where_it_was_taken(table: Table, tmp_path: Path) -> None:
    file = turned_with_position(tmp_path / "quay.jpg", quarters(900, 1200))
    # Pillow reads back what a viewer that knows EXIF would: the file really lies and holds its position.
    with Image.open(file) as lying:
        assert lying.size == (1200, 900)
        assert lying.getexif().get_ifd(0x8825)
    table.new_set()
    album.add(table, "dial", file)
    [row] = album.rows(table)
    for what in ("picture", "thumb"):
        content = album.stored(table, row["id"], what)
        kept = album.picture(content)
        assert kept.format == "JPEG"
        assert not kept.getexif()
        assert not kept.info.get("comment")
        for trace in (b"Exif", b"ICC_PROFILE", b"http://ns.adobe", MAKER.encode(), b"quay"):
            assert trace not in content
        assert _near(_corners(kept), [RED, GREEN, BLUE, WHITE])
    assert (row["width"], row["height"]) == (900, 1200)


@pytest.mark.parametrize(
    ("size", "kept"), [((4000, 3000), (1600, 1200)), ((1000, 3001), (533, 1600)), ((800, 601), (800, 601))]
)
def test_the_long_side_is_at_most_1600_and_nothing_is_enlarged(
    table: Table, tmp_path: Path, size: tuple[int, int], kept: tuple[int, int]
) -> None:
    quarters(*size).save(tmp_path / "large.jpg", quality=95)
    table.new_set()
    album.add(table, "dial", tmp_path / "large.jpg")
    [row] = album.rows(table)
    content = album.stored(table, row["id"])
    assert album.picture(content).size == kept == (row["width"], row["height"])
    assert row["bytes"] == row["file"] == len(content)
    assert max(album.picture(album.stored(table, row["id"], "thumb")).size) == 240


def test_shrinking_keeps_what_pillow_keeps(table: Table, tmp_path: Path) -> None:
    """Pillow's own Lanczos reduction is the measure from outside: on the whole within two grey levels."""
    file = snapshot(tmp_path / "blots.jpg", size=(3200, 2400))
    table.new_set()
    album.add(table, "dial", file)
    [row] = album.rows(table)
    ours = album.picture(album.stored(table, row["id"])).convert("L")
    with Image.open(file) as image:
        theirs = image.convert("L").resize((1600, 1200), Image.Resampling.LANCZOS)
    assert ImageStat.Stat(ImageChops.difference(ours, theirs)).mean[0] < 2


@pytest.mark.parametrize("kind", ["PNG", "WEBP", "GIF", "BMP"])
def test_other_pictures_a_browser_reads_are_kept_as_jpeg(table: Table, tmp_path: Path, kind: str) -> None:
    file = tmp_path / f"quarters.{kind.lower()}"
    quarters(400, 300).save(file, kind)
    table.new_set()
    album.add(table, "dial", file)
    [row] = album.rows(table)
    kept = album.picture(album.stored(table, row["id"]))
    assert kept.format == "JPEG"
    assert _near(_corners(kept), [RED, GREEN, BLUE, WHITE])


def test_what_is_see_through_becomes_white(table: Table, tmp_path: Path) -> None:
    Image.new("RGBA", (300, 200), (0, 0, 0, 0)).save(tmp_path / "clear.png")
    table.new_set()
    album.add(table, "dial", tmp_path / "clear.png")
    [row] = album.rows(table)
    assert _corners(album.picture(album.stored(table, row["id"])))[0] == (255, 255, 255)


def _jpeg() -> bytes:
    content = io.BytesIO()
    quarters(1200, 900).save(content, "JPEG", quality=95)
    return content.getvalue()


def _poster() -> bytes:
    content = io.BytesIO()
    Image.new("1", (9000, 7000)).save(content, "PNG")
    return content.getvalue()


def test_a_photo_picked_from_the_gallery_larger_than_the_limit_is_refused_by_name_size_and_limit(
    table: Table, tmp_path: Path
) -> None:
    (tmp_path / "holiday.jpg").write_bytes(_jpeg() + bytes(31_000_000))
    table.new_set()
    album.add(table, "dial", tmp_path / "holiday.jpg")
    table.find(".notice.bad", "holiday.jpg is 31 MB; the limit is 20 MB. Take it again at a smaller size.")
    assert album.rows(table) == []


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("empty.jpg", lambda: b"", "empty.jpg is empty."),
        ("notes.jpg", lambda: b"Seen at the quay, row two.", "notes.jpg (1 KB) is not a photo."),
        ("manual.pdf", lambda: b"%PDF-1.7\n" + bytes(2000), "manual.pdf (2 KB) is not a photo."),
        ("panel.svg", lambda: b"<svg/>", "panel.svg (1 KB) is not a photo."),
        ("head.jpg", lambda: _jpeg()[:20], "head.jpg (1 KB) is damaged"),
        ("poster.png", _poster, "poster.png has 63 million pixels; the limit is 60 million."),
    ],
)  # fmt: skip
def test_what_cannot_be_a_photo_gets_a_sentence_and_the_others_are_kept(
    table: Table, tmp_path: Path, name: str, content: Callable[[], bytes], said: str
) -> None:
    (tmp_path / name).write_bytes(content())
    table.new_set()
    album.add(table, "dial", tmp_path / name, snapshot(tmp_path / "good.jpg"))
    table.find(".notice.bad", said)
    table.find(".notice.bad", "1 of 2 photos kept.")
    assert len(album.rows(table)) == 1
    assert len(table.find("#check-dial .photo-strip").find_elements("css selector", ".thumb")) == 1


def test_a_heic_that_the_browser_cannot_read_comes_in_through_the_server(
    table: Table, tmp_path: Path
) -> None:
    table.new_set()
    album.add(table, "dial", heic(tmp_path / "holiday.heic"))
    [row] = album.rows(table)
    kept = album.picture(album.stored(table, row["id"]))
    assert kept.size == (800, 600)
    assert _near(_corners(kept), [RED, GREEN, BLUE, WHITE])


def test_without_a_signal_a_heic_gets_a_sentence_that_names_it_and_says_what_to_do(
    field: Table, tmp_path: Path
) -> None:
    field.phone.expected.append(NO_SERVER)
    field.new_set()
    album.add(field, "dial", heic(tmp_path / "holiday.heic"))
    field.find(".notice.bad", "holiday.heic (")
    field.find(".notice.bad", "needs a signal. Choose it again with a signal, or set the camera to JPEG")
    assert album.rows(field) == []


_STRIP = """
const { withoutMetadata } = await load('store/jpeg_segments');
const bytes = Uint8Array.from(atob(args[0]), (letter) => letter.charCodeAt(0));
const blob = await withoutMetadata(new Blob([bytes]));
if (!blob) return null;
return btoa(String.fromCharCode(...new Uint8Array(await blob.arrayBuffer())));
"""


@pytest.mark.parametrize("options", [{}, {"progressive": True}, {"restart_marker_rows": 1}])
def test_metadata_leave_a_jpeg_before_its_label_is_read_and_no_pixel_changes(
    table: Table, tmp_path: Path, options: dict[str, bool | int]
) -> None:
    """Segments by ITU-T T.81; Pillow is the reader from outside."""
    exif = Image.Exif()
    exif.get_ifd(0x8825).update({1: "N", 2: (51.0, 28.0, 38.0)})
    content = io.BytesIO()
    quarters(160, 120).save(content, "JPEG", exif=exif, comment=b"taken at the quay", **options)
    film = b"\0\0\0\x18ftypmp42" + bytes(range(256)) * 4
    bare = album.script(table, _STRIP, base64.b64encode(content.getvalue() + film).decode())
    kept = base64.b64decode(bare)
    assert kept.endswith(b"\xff\xd9")
    for trace in (b"Exif", b"quay", b"ftyp"):
        assert trace not in kept
    with Image.open(content) as before:
        assert not ImageChops.difference(before.convert("RGB"), album.picture(kept).convert("RGB")).getbbox()
    for torn in (content.getvalue()[:-900], b"\xff\xd8\xff", b"\x89PNG"):
        assert album.script(table, _STRIP, base64.b64encode(torn).decode()) is None
