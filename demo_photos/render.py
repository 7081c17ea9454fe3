"""Renders the demo photos into this folder, each with its truth, and the list of them.

Run it as `python -m demo_photos.render`, from the top folder; names of files render only these.
"""

import json
import sys
from pathlib import Path

from demo_photos.scenes import SHOTS, Shot

HERE = Path(__file__).parent


def render(shot: Shot, seed: int, folder: Path) -> None:
    """Writes a photo and its truth."""
    photo, truth = shot.taken(seed)
    (folder / shot.file).write_bytes(photo)
    (folder / shot.file).with_suffix(".json").write_text(json.dumps(truth, indent=1) + "\n", "utf-8")


def listed() -> list[dict[str, str | None]]:
    """The list of the photos: file, set, what it proves, and what it shows in words."""
    return [
        {
            "file": shot.file,
            "set": shot.set,
            "about": f"check/{shot.check}" if shot.check else "",
            "says": shot.says,
        }
        for shot in SHOTS
    ]


def main(wanted: list[str]) -> None:
    """Renders all photos, or those named."""
    for seed, shot in enumerate(SHOTS, start=1):
        if not wanted or shot.file in wanted:
            render(shot, seed, HERE)
            print(f"{shot.file}: {(HERE / shot.file).stat().st_size // 1024} KB")
    (HERE / "photos.json").write_text(json.dumps(listed(), indent=1) + "\n", "utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
