"""How much one notebook may hold on the server."""

from dataclasses import dataclass

from sqlalchemy import Row

from webapp.errors import NotebookFull, PictureTooLarge

# Bytes of JSON, and operations in one request.
LARGEST_OPERATION = 100_000
MOST_AT_ONCE = 500
# Bytes of one part of a photo.
LARGEST_PART = 512 * 1024

_WHAT_TO_DO = "Everything stays on the phone. Export it there, or ask whoever runs the server for more room."


@dataclass(frozen=True)
class Limits:
    """Most operations, bytes of them, photos, bytes of them, and bytes of a single photo."""

    operations: int = 500_000
    bytes: int = 200_000_000
    photos: int = 20_000
    photo_bytes: int = 4_000_000_000
    one_photo: int = 5_000_000

    def check_operations(self, notebook: Row[tuple[int, ...]], count: int, size: int) -> None:
        """Raises NotebookFull when so many more operations, of so many bytes, do not fit."""
        held, held_bytes = notebook.operation_count, notebook.operation_bytes
        _check("operations", held, count, self.operations)
        _check("bytes of findings", held_bytes, size, self.bytes)

    def check_picture(self, notebook: Row[tuple[int, ...]], size: int) -> None:
        """Raises NotebookFull when one more photo of so many bytes does not fit."""
        _check("photos", notebook.picture_count, 1, self.photos)
        _check("bytes of photos", notebook.picture_bytes, size, self.photo_bytes)

    def check_size(self, size: int) -> None:
        """Raises PictureTooLarge for a photo of so many bytes."""
        if size > self.one_photo:
            raise PictureTooLarge(
                f"This photo is {size:,} bytes; the limit is {self.one_photo:,}.",
                "Keep it at a smaller size.",
            )


def _check(what: str, held: int, more: int, most: int) -> None:
    if held + more > most:
        raise NotebookFull(
            f"This notebook holds {held:,} of {most:,} {what} on the server; {more:,} more do not fit.",
            _WHAT_TO_DO,
        )
