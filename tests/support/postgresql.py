"""A real PostgreSQL server of our own in a temporary folder, for the tests of one process."""

import os
import secrets
import shutil
import signal
import subprocess
import tempfile
import time
from pathlib import Path

import psycopg

from tests.support.server import free_port

MISSING = (
    "PostgreSQL is not installed, and without it half of the server's storage goes untested. "
    "On Debian: sudo apt-get install postgresql"
)


def programs() -> Path:
    """Give the folder of initdb and postgres, the newest there is; AssertionError when there is none."""
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"), key=lambda path: int(path.parts[-3]))
    on_path = shutil.which("initdb")
    assert found or on_path, MISSING
    return found[-1].parent if found else Path(str(on_path)).resolve().parent


class Cluster:
    """Runs from its making until `stop`; each database asked for is new and empty."""

    def __init__(self) -> None:
        self.port = free_port()
        # Not in the folder of the tests: only root may enter that one, and PostgreSQL refuses to run as root.
        self._folder = Path(tempfile.mkdtemp(prefix="underchassis-postgresql-"))
        as_other: list[str] = []
        if os.geteuid() == 0:
            shutil.chown(self._folder, "postgres")
            as_other = ["setpriv", "--reuid=postgres", "--regid=postgres", "--clear-groups"]
        data = self._folder / "data"
        make = [programs() / "initdb", "-D", data, "-U", "tester", "--auth=trust", "--no-sync", "-E", "UTF8"]
        subprocess.run([*as_other, *make], check=True, capture_output=True, cwd="/")
        # What a crash of the whole machine would cost is PostgreSQL's to test, so nothing is flushed here.
        settings = {
            "listen_addresses": "127.0.0.1",
            "port": self.port,
            "unix_socket_directories": "",
            "fsync": "off",
            "shared_buffers": "16MB",
        }
        options = [word for name, value in settings.items() for word in ("-c", f"{name}={value}")]
        self._log = (self._folder / "log").open("wb")
        self._process = subprocess.Popen(
            [*as_other, programs() / "postgres", "-D", data, *options],
            stdout=self._log,
            stderr=self._log,
            cwd="/",
        )
        self._wait()

    def database(self) -> str:
        """Give the address of a new database."""
        name = f"test_{secrets.token_hex(6)}"
        with psycopg.connect(self.address("postgres"), autocommit=True) as connection:
            connection.execute(f"CREATE DATABASE {name}")
        return self.address(name)

    def address(self, name: str) -> str:
        """Give the address of the database of that name."""
        return f"postgresql://tester@127.0.0.1:{self.port}/{name}"

    def stop(self) -> None:
        """End the server and remove its folder."""
        # A fast shutdown: connections still open are cut.
        self._process.send_signal(signal.SIGINT)
        self._process.wait(timeout=30)
        self._log.close()
        shutil.rmtree(self._folder)

    def _wait(self) -> None:
        deadline = time.monotonic() + 60
        while True:
            try:
                psycopg.connect(self.address("postgres")).close()
                return
            except psycopg.OperationalError:
                said = (self._folder / "log").read_text()
                assert self._process.poll() is None, f"PostgreSQL ended: {said}"
                assert time.monotonic() < deadline, f"PostgreSQL does not answer: {said}"
                time.sleep(0.05)
