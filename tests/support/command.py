"""Runs the real command in a process of its own."""

import os
import subprocess
import sys
from pathlib import Path

COMMAND = str(Path(sys.executable).with_name("underchassis"))


def run(
    *arguments: str, given: bytes | None = None, cwd: Path | None = None, **environment: str
) -> subprocess.CompletedProcess[bytes]:
    """What `underchassis ARGUMENTS` does, with bytes on standard input and variables in the environment."""
    return subprocess.run(
        [COMMAND, *arguments],
        input=b"" if given is None else given,
        capture_output=True,
        cwd=cwd,
        env={**os.environ, **environment},
        timeout=60,
        check=False,
    )


def refusal_of(result: subprocess.CompletedProcess[bytes]) -> str:
    """The one sentence on stderr of a refused command; asserts the form every refusal has."""
    text = result.stderr.decode("utf-8")
    assert result.returncode == 2, text
    assert result.stdout == b""
    assert len(text.splitlines()) == 1, text
    assert text.startswith("underchassis: "), text
    assert "Traceback" not in text
    return text.removeprefix("underchassis: ").strip()
