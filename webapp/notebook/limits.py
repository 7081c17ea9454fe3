"""How much one notebook may hold on the server, and may show of it to others."""

from dataclasses import dataclass

from sqlalchemy import Row

from webapp.errors import NotebookFull, PictureTooLarge, Sentence

# Bytes of JSON, and operations in one request.
LARGEST_OPERATION = 100_000
MOST_AT_ONCE = 500
# Bytes of one part of a photo.
LARGEST_PART = 512 * 1024
# A description shared by a link: bytes of JSON, photos, letters of its title and of the seller's own words.
LARGEST_SHARE = 200_000
MOST_SHARED_PHOTOS = 60
LONGEST_SHARED_TITLE = 200
LONGEST_SHARED_WORDS = 4_000

_ASK_FOR_ROOM = Sentence(
    "Everything stays on the phone. Export it there, or ask whoever runs the server for more room."
)
_WITHDRAW_ONE = Sentence("Withdraw one that is sold or done with.")


@dataclass(frozen=True)
class Limits:
    """Most operations, bytes of them, photos, bytes of them, and bytes of a single photo; most descriptions
    shared at a time, and links ever made, since those withdrawn are remembered.
    """

    operations: int = 500_000
    bytes: int = 200_000_000
    photos: int = 20_000
    photo_bytes: int = 4_000_000_000
    one_photo: int = 5_000_000
    shares: int = 300
    links: int = 5_000

    def check_operations(self, notebook: Row[tuple[int, ...]], count: int, size: int) -> None:
        """Raises NotebookFull when so many more operations, of so many bytes, do not fit."""
        held, held_bytes = notebook.operation_count, notebook.operation_bytes
        _check(Sentence("operations"), held, count, self.operations)
        _check(Sentence("bytes of findings"), held_bytes, size, self.bytes)

    def check_picture(self, notebook: Row[tuple[int, ...]], size: int) -> None:
        """Raises NotebookFull when one more photo of so many bytes does not fit."""
        _check(Sentence("photos"), notebook.picture_count, 1, self.photos)
        _check(Sentence("bytes of photos"), notebook.picture_bytes, size, self.photo_bytes)

    def check_share(self, shared: int, links: int) -> None:
        """Raises NotebookFull when one more description cannot be shared beside so many."""
        _check(Sentence("descriptions shared by a link"), shared, 1, self.shares, _WITHDRAW_ONE)
        _check(Sentence("links, withdrawn ones counted,"), links, 1, self.links)

    def check_size(self, size: int) -> None:
        """Raises PictureTooLarge for a photo of so many bytes."""
        if size > self.one_photo:
            raise PictureTooLarge(
                Sentence(
                    "This photo is {size} bytes; the limit is {most}.",
                    size=format(size, ","),
                    most=format(self.one_photo, ","),
                ),
                Sentence("Keep it at a smaller size."),
            )


def _check(what: Sentence, held: int, more: int, most: int, what_to_do: Sentence = _ASK_FOR_ROOM) -> None:
    if held + more > most:
        raise NotebookFull(
            Sentence(
                "This notebook holds {held} of {most} {what} on the server; {more} more do not fit.",
                held=format(held, ","),
                most=format(most, ","),
                what=what,
                more=format(more, ","),
            ),
            what_to_do,
        )
