"""The two start scripts, with stand-ins for Python, the package manager and the user's rights."""

import os
import re
import shutil
import subprocess
from pathlib import Path

import pytest

CHECKOUT = Path(__file__).resolve().parents[2]

TOOLS = ("sh", "cat", "chmod", "cp", "dirname", "env", "flock", "grep", "mkdir", "rm", "sha256sum")

# Stands for the interpreter and for the one inside the environment that it makes; notes what it was asked.
PYTHON = """#!/bin/sh
echo "python $*" >>"$NOTES"
case "$*" in
    *print*version_info*) echo 3.12 ;;
    *ensurepip*) [ -e "$MACHINE/venv-package" ] ;;
    "-m venv "*) mkdir -p "$3/bin" && cp "$0" "$3/bin/python" ;;
    "-m pip install "*)
        [ ! -e "$MACHINE/no-network" ] || exit 1
        if [ -e "$MACHINE/killed" ]; then rm "$MACHINE/killed"; kill -9 $PPID; exit 1; fi
        printf '#!/bin/sh\\necho "served: $*"\\n' >"${0%/*}/underchassis"; chmod +x "${0%/*}/underchassis" ;;
    "-m pytest"*) echo "tested: $*" ;;
esac
"""

APT = """#!/bin/sh
echo "apt-get $*" >>"$NOTES"
case "$*" in
    *" install "*) [ -e "$MACHINE/lists" ] || exit 100 ;;
    *update) : >"$MACHINE/lists"; exit 0 ;;
esac
for package; do
    case "$package" in
        python3.12-venv) : >"$MACHINE/venv-package" ;;
        libzbar0) : >"$MACHINE/zbar" ;;
        chromium) cp "$MACHINE/bin/id" "$MACHINE/bin/chromium" ;;
        chromium-driver) cp "$MACHINE/bin/id" "$MACHINE/bin/chromedriver" ;;
    esac
done
"""

LDCONFIG = """#!/bin/sh
[ ! -e "$MACHINE/zbar" ] || echo 'libzbar.so.0 (libc6,x86-64) => /usr/lib/libzbar.so.0'
"""


class Machine:
    """A fresh machine with a fresh clone in a folder whose name holds a space."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.clone = folder / "my clone"
        for name in ("webapp/run.sh", "webapp/setup.sh", "tests/run.sh", "pyproject.toml"):
            (self.clone / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(CHECKOUT / name, self.clone / name)
        (folder / "bin").mkdir()
        for tool in TOOLS:
            (folder / "bin" / tool).symlink_to(shutil.which(tool) or "/missing")
        for name, text in (("python3", PYTHON), ("apt-get", APT), ("ldconfig", LDCONFIG)):
            self.command(name, text)
        self.command("id", "#!/bin/sh\necho 0\n")

    def command(self, name: str, text: str) -> None:
        """Put a command on the machine's path."""
        (self.folder / "bin" / name).write_text(text)
        (self.folder / "bin" / name).chmod(0o755)

    def has(self, *marks: str) -> None:
        """Give the machine what its stand-ins look for."""
        for mark in marks:
            (self.folder / mark).touch()

    def start(self, *options: str, script: str = "webapp/run.sh", clone: Path | None = None) -> "Start":
        """Run a start script from another folder, and tell what it said and did."""
        notes = self.folder / "notes"
        notes.write_text("")
        ended = subprocess.run(
            ["sh", str((clone or self.clone) / script), *options],
            cwd=self.folder,
            env={"PATH": str(self.folder / "bin"), "MACHINE": str(self.folder), "NOTES": str(notes)},
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            check=False,
        )
        return Start(ended, notes.read_text())


class Start:
    """What one start printed and which commands it ran."""

    def __init__(self, ended: "subprocess.CompletedProcess[str]", notes: str) -> None:
        self.status, self.said, self.complained = ended.returncode, ended.stdout, ended.stderr
        self.made_venv = "-m venv" in notes
        self.installed = "-m pip install" in notes
        self.extra = "[dev]" in notes
        self.packages = [line for line in notes.splitlines() if "apt-get" in line and " install " in line]


@pytest.fixture
def machine(tmp_path: Path) -> Machine:
    return Machine(tmp_path)


def test_a_fresh_machine_gets_everything_and_the_second_start_installs_nothing(machine: Machine) -> None:
    first = machine.start("--port", "8001")
    assert (first.status, first.said) == (0, "served: serve --demo --port 8001\n")
    assert (first.made_venv, first.installed, first.extra) == (True, True, False)
    assert [package in " ".join(first.packages) for package in ("libzbar0", "python3.12-venv")] == [
        True,
        True,
    ]
    second = machine.start()
    assert (second.status, second.said, second.complained) == (0, "served: serve --demo\n", "")
    assert (second.made_venv, second.installed, second.packages) == (False, False, [])


def test_the_tests_add_their_own_packages_and_leave_the_app_ready(machine: Machine) -> None:
    first = machine.start("--long", script="tests/run.sh")
    assert first.status == 0
    assert re.fullmatch(r"tested: -m pytest .*--dist loadfile --long\n", first.said)
    assert first.extra
    assert "chromium chromium-driver" in " ".join(first.packages)
    assert not machine.start().installed
    assert not machine.start(script="tests/run.sh").installed


def test_the_tests_install_what_the_app_alone_did_not_need(machine: Machine) -> None:
    machine.start()
    second = machine.start(script="tests/run.sh")
    assert (second.made_venv, second.installed, second.extra) == (False, True, True)


def test_a_changed_project_file_installs_again_into_the_same_environment(machine: Machine) -> None:
    machine.start()
    with (machine.clone / "pyproject.toml").open("a") as project:
        project.write("# changed\n")
    again = machine.start()
    assert (again.status, again.made_venv, again.installed) == (0, False, True)


def test_an_installation_that_was_killed_is_made_anew(machine: Machine) -> None:
    machine.has("killed")
    assert machine.start().status != 0
    again = machine.start()
    assert (again.status, again.made_venv, again.installed) == (0, True, True)


def test_a_half_made_environment_is_made_anew(machine: Machine) -> None:
    (machine.clone / ".venv" / "bin").mkdir(parents=True)
    assert machine.start().made_venv


def test_a_copied_checkout_gets_an_environment_of_its_own(machine: Machine) -> None:
    machine.start()
    copy = shutil.copytree(machine.clone, machine.folder / "copy")
    assert machine.start(clone=copy).made_venv


def test_without_a_network_it_says_so_and_a_later_start_goes_on(machine: Machine) -> None:
    machine.has("no-network")
    failed = machine.start()
    assert failed.status == 1
    assert "The Python packages could not be installed" in failed.complained
    (machine.folder / "no-network").unlink()
    again = machine.start()
    assert (again.status, again.made_venv, again.installed) == (0, False, True)


def test_a_working_environment_outlives_a_failed_renewal(machine: Machine) -> None:
    machine.start()
    with (machine.clone / "pyproject.toml").open("a") as project:
        project.write("# changed\n")
    machine.has("no-network")
    assert machine.start().status == 1
    assert (machine.clone / ".venv" / "bin" / "underchassis").is_file()


def test_without_rights_it_says_what_is_missing_and_goes_on(machine: Machine) -> None:
    machine.has("venv-package")
    machine.command("id", "#!/bin/sh\necho 1000\n")
    start = machine.start()
    assert (start.status, start.packages) == (0, [])
    assert start.complained.splitlines()[0] == (
        "Missing: libzbar0. Labels in photos cannot be read; everything else works. "
        "To install by hand: sudo apt-get install libzbar0"
    )


def test_with_sudo_the_packages_are_installed(machine: Machine) -> None:
    machine.command("id", "#!/bin/sh\necho 1000\n")
    machine.command("sudo", '#!/bin/sh\n[ "$*" = "-n true" ] || exec "$@"\n')
    start = machine.start()
    assert (start.status, len(start.packages) > 0) == (0, True)


def test_without_rights_and_without_environments_it_names_the_package(machine: Machine) -> None:
    machine.command("id", "#!/bin/sh\necho 1000\n")
    start = machine.start()
    assert start.status == 1
    assert start.complained.splitlines()[-1] == (
        "Python 3.12 has no ensurepip, so its packages cannot be installed. "
        "As an administrator: apt-get install python3.12-venv"
    )


def test_another_system_without_the_package_manager_goes_on(machine: Machine) -> None:
    machine.has("venv-package")
    (machine.folder / "bin" / "apt-get").unlink()
    assert machine.start().status == 0


def test_a_machine_without_a_fitting_python_is_told_which_one(machine: Machine) -> None:
    machine.command("python3", "#!/bin/sh\nexit 1\n")
    start = machine.start()
    assert (start.status, "Python 3.11 or newer" in start.complained) == (1, True)


def test_a_python_that_does_not_answer_is_passed_over(machine: Machine) -> None:
    machine.command("python3.13", "#!/bin/sh\necho not switched on >&2; exit 127\n")
    assert machine.start().status == 0


def test_two_starts_at_once_install_once(machine: Machine) -> None:
    environment = os.environ | {
        "PATH": str(machine.folder / "bin"),
        "MACHINE": str(machine.folder),
        "NOTES": str(machine.folder / "notes"),
    }
    command = ["sh", str(machine.clone / "webapp" / "run.sh")]
    both = [subprocess.Popen(command, env=environment, stdout=subprocess.PIPE) for _ in range(2)]
    assert [program.communicate()[0] for program in both] == [b"served: serve --demo\n"] * 2
    assert (machine.folder / "notes").read_text().count("-m pip install") == 1
