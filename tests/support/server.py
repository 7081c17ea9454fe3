"""A real server in a process of its own, which a test can stop and start again on the same port."""

import socket
import subprocess
import time
from collections.abc import Sequence
from pathlib import Path
from urllib.error import HTTPError
from urllib.request import urlopen


def free_port() -> int:
    """Give a port nobody listens on at this moment."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


class LiveServer:
    """Runs a command that serves on a port; its output is kept in a file."""

    def __init__(self, command: Sequence[str], port: int, data: Path) -> None:
        self.command = list(command)
        self.url = f"http://localhost:{port}"
        self.data = data
        self.log = data.with_name(data.name + ".log")
        self._process: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        """Start and wait for the first answer; AssertionError with the server's output when none comes."""
        with self.log.open("ab") as log:
            self._process = subprocess.Popen(self.command, stdout=log, stderr=log)
        deadline = time.monotonic() + 60
        while not self.answers():
            gone = self._process.poll() is not None
            assert not gone, f"the server ended: {self.log.read_text()}"
            assert time.monotonic() < deadline, f"the server does not answer: {self.log.read_text()}"
            time.sleep(0.05)

    def stop(self) -> None:
        """Stop and wait until the port is free again; nothing happens when it is not running."""
        if self._process:
            self._process.terminate()
            self._process.wait(timeout=30)
            self._process = None

    def kill(self) -> None:
        """Kill it at once, as a dead battery would; `wait` takes note of its end."""
        assert self._process
        self._process.kill()

    def wait(self) -> None:
        """Wait until it has ended."""
        assert self._process
        self._process.wait(timeout=30)
        self._process = None

    @property
    def pid(self) -> int:
        """The number of the running process."""
        assert self._process
        return self._process.pid

    def peak_memory(self) -> int:
        """Tell the most memory that the running server ever held, in MB."""
        assert self._process
        status = Path(f"/proc/{self._process.pid}/status").read_text()
        return int(status.split("VmHWM:")[1].split()[0]) // 1000

    def answers(self) -> bool:
        """Tell whether the server answers at all, be it with an error page."""
        try:
            with urlopen(self.url + "/service-worker.js", timeout=10):
                return True
        except HTTPError as refusal:
            refusal.close()
            return True
        except OSError:
            return False
