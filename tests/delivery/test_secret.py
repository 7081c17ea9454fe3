"""The key that signs form tokens."""

import subprocess
import sys
from pathlib import Path

from webapp.secret import KEY_BYTES, secret_key


def test_it_is_made_once_for_the_owner_only(tmp_path: Path) -> None:
    data = tmp_path / "new" / "data"
    key = secret_key(data)
    assert len(key) == KEY_BYTES
    assert secret_key(data) == key
    assert (data / "secret_key").stat().st_mode & 0o777 == 0o600
    assert [path.name for path in data.iterdir()] == ["secret_key"]


def test_another_folder_has_another_key(tmp_path: Path) -> None:
    assert secret_key(tmp_path / "a") != secret_key(tmp_path / "b")


def test_a_cut_off_key_is_replaced(tmp_path: Path) -> None:
    (tmp_path / "secret_key").write_bytes(b"short")
    assert len(secret_key(tmp_path)) == KEY_BYTES


def test_programs_starting_at_once_agree_on_it(tmp_path: Path) -> None:
    script = f"""
from pathlib import Path
from webapp.secret import secret_key
print(secret_key(Path({str(tmp_path)!r})))
"""
    programs = [subprocess.Popen([sys.executable, "-c", script], stdout=subprocess.PIPE) for _ in range(4)]
    assert len({program.communicate()[0] for program in programs}) == 1
