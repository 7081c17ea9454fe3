# Shared by webapp/run.sh and tests/run.sh, which set `root` to the checkout and source this file.
#
# prepare EXTRA: makes .venv and installs the project with that extra ("" or "dev") into it. When pyproject.toml has
# not changed since, it installs nothing. Debian packages are asked for by what they give, since their names differ
# from one release to the next, and only at the time of installing: a later start never waits for a package server.

venv=$root/.venv

say() { printf '%s\n' "$*" >&2; }

fail() { say "$@"; exit 1; }

is_admin() {
    [ "$(id -u)" -eq 0 ] || { command -v sudo >/dev/null && { [ -t 0 ] || sudo -n true 2>/dev/null; }; }
}

as_root() { if [ "$(id -u)" -eq 0 ]; then "$@"; else sudo "$@"; fi; }

# apt_install PACKAGE...: true when all of them are installed afterwards.
apt_install() {
    command -v apt-get >/dev/null && is_admin || return 1
    say "Installing $* from the Debian packages."
    set -- env DEBIAN_FRONTEND=noninteractive apt-get -qq -o DPkg::Lock::Timeout=120 \
        install -y --no-install-recommends "$@"
    # A fresh machine has no package lists yet, and those of an old one may be out of date.
    as_root "$@" >/dev/null 2>&1 ||
        { as_root apt-get -qq update >/dev/null 2>&1 && as_root "$@" >/dev/null 2>&1; }
}

has_zbar() { PATH=$PATH:/sbin:/usr/sbin ldconfig -p 2>/dev/null | grep -q 'libzbar\.so\.0'; }

has_browser() { command -v chromium >/dev/null && command -v chromedriver >/dev/null; }

has_postgresql() {
    command -v initdb >/dev/null && return 0
    for initdb in /usr/lib/postgresql/*/bin/initdb; do [ -x "$initdb" ] && return 0; done
    return 1
}

# offer_package TEST MAY_INSTALL LOSS PACKAGE...: installs the packages unless TEST holds; if it still does not, says
# what is lost without them.
offer_package() {
    test=$1 may_install=$2 loss=$3; shift 3
    "$test" && return 0
    if [ "$may_install" = yes ] && apt_install "$@" && "$test"; then return 0; fi
    say "Missing: $*. $loss To install by hand: sudo apt-get install $*"
}

# find_python: sets `python` to an interpreter of version 3.11 or newer. Each is run, not just looked up, because a
# version manager leaves commands on the path that answer only for versions switched on.
find_python() {
    for python in python3.13 python3.12 python3.11 python3; do
        "$python" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null && return 0
    done
    fail "Underchassis needs Python 3.11 or newer, and none was found. On Debian: sudo apt-get install python3"
}

make_venv() {
    find_python
    version=$("$python" -c 'import sys; print("%d.%d" % sys.version_info[:2])')
    if ! "$python" -c 'import ensurepip' 2>/dev/null; then
        apt_install "python$version-venv" || apt_install python3-venv || true
        "$python" -c 'import ensurepip' 2>/dev/null || fail "Python $version has no ensurepip, so its packages cannot" \
            "be installed. As an administrator: apt-get install python$version-venv"
    fi
    "$python" -m venv "$venv" || fail "The Python environment $venv could not be made."
}

# The state of an installation: what was to be installed, and where, since an environment that was copied along with
# its checkout still points to the old place.
wanted_state() { printf '%s %s' "$(sha256sum <"$root/pyproject.toml")" "$root"; }

is_installed() { [ "$(cat "$venv/installed-${1:-plain}" 2>/dev/null)" = "$(wanted_state)" ]; }

# The file `unfinished` is there only while something is being made; one left over means that it was cut short.
drop_broken_venv() {
    [ -d "$venv" ] || return 0
    [ ! -e "$venv/unfinished" ] && [ "$(cat "$venv/made-for" 2>/dev/null)" = "$root" ] &&
        "$venv/bin/python" -c 'import pip' 2>/dev/null && return 0
    say "The Python environment is incomplete or was made elsewhere; making it anew."
    rm -rf "$venv" || fail "The old Python environment $venv could not be removed."
}

install_project() {
    drop_broken_venv
    mkdir -p "$venv" && : >"$venv/unfinished" || fail "Nothing can be written in $root."
    [ -e "$venv/made-for" ] || make_venv
    printf '%s' "$root" >"$venv/made-for"
    say "Installing the Python packages. This happens once and takes about a minute."
    installed=yes
    "$venv/bin/python" -m pip install -qq --disable-pip-version-check -e "$root${1:+[$1]}" || installed=no
    rm -f "$venv/unfinished"
    [ "$installed" = yes ] || fail "The Python packages could not be installed: see the lines above. Without a" \
        "connection they cannot be fetched; try again when there is one."
    # The larger installation contains the plain one.
    wanted_state >"$venv/installed-${1:-plain}"
    wanted_state >"$venv/installed-plain"
}

prepare() {
    # Two starts at once would repair each other's half-made environment, so the second waits.
    exec 9<"$root/pyproject.toml"
    if command -v flock >/dev/null; then flock 9; fi
    may_install=no
    is_installed "$1" && "$venv/bin/python" -c '' 2>/dev/null || may_install=yes
    offer_package has_zbar "$may_install" "Labels in photos cannot be read; everything else works." libzbar0
    if [ "$1" = dev ]; then
        offer_package has_browser "$may_install" "The tests in a browser are left out." chromium chromium-driver
        offer_package has_postgresql "$may_install" "The tests on PostgreSQL fail." postgresql
    fi
    if [ "$may_install" = yes ]; then install_project "$1"; fi
    exec 9<&-
}
