# Read by ./storystick and ./test, which have set `root`: finds a Python, and keeps .venv beside them as the locks say.
# shellcheck shell=sh disable=SC2154

say() { printf 'storystick: %s\n' "$*" >&2; }

# Run by each candidate: prints where it really is, and fails unless it will do.
probe='
import ensurepip, os, ssl, sys, venv, zlib
fits = (3, 12) <= sys.version_info < (3, 15) and sys.implementation.name == "cpython"
if not fits or sys.maxsize < 2**32 or "t" in sys.abiflags:
    sys.exit(1)
print(os.path.realpath(sys.executable))
'

# suits FILE: really run it, since a version manager leaves files called python3.12 that only say that they cannot.
suits() {
    [ -f "$1" ] && [ -x "$1" ] || return 1
    python=$("$1" -I -c "$probe" </dev/null 2>/dev/null) && [ -x "$python" ] && return 0
    unfit="$unfit $1"
    return 1
}

# Where Pythons lie that are not on PATH: version managers' folders, then the usual ones. Globs; * stands for a version.
home=${HOME:-/nowhere}
data=${XDG_DATA_HOME:-$home/.local/share}
places() {
    for bin in \
        "${PYENV_ROOT:-$home/.pyenv}/versions/3.$1"*/bin \
        "${ASDF_DATA_DIR:-$home/.asdf}/installs/python/3.$1"*/bin \
        "${MISE_DATA_DIR:-$data/mise}/installs/python/3.$1"*/bin \
        "${UV_PYTHON_INSTALL_DIR:-$data/uv/python}/cpython-3.$1"*/bin \
        "$home"/*conda3/bin "$home"/*forge3/bin "$home"/*conda3/envs/*/bin "$home"/*forge3/envs/*/bin \
        "$home/.local/bin" \
        "${STORYSTICK_SYSTEM-}/opt"/*conda*/bin \
        "${STORYSTICK_SYSTEM-}/opt/homebrew/bin" \
        "${STORYSTICK_SYSTEM-}/opt/local/bin" \
        "${STORYSTICK_SYSTEM-}/home/linuxbrew/.linuxbrew/bin" \
        "${STORYSTICK_SYSTEM-}/Library/Frameworks/Python.framework/Versions/3.$1/bin" \
        "${STORYSTICK_SYSTEM-}/usr/local/bin" \
        "${STORYSTICK_SYSTEM-}/usr/bin"
    do
        suits "$bin/python3.$1" && return 0
    done
    return 1
}

# on_path NAME: every file of that name on PATH in turn, not only the first.
on_path() {
    old_ifs=$IFS
    IFS=:
    for folder in $PATH; do
        IFS=$old_ifs
        suits "${folder:-.}/$1" && return 0
    done
    IFS=$old_ifs
    return 1
}

# Sets `python`, or says what to install and ends with 69.
find_python() {
    unfit=
    if [ -n "${STORYSTICK_PYTHON:-}" ]; then
        case $STORYSTICK_PYTHON in
            */*) suits "$STORYSTICK_PYTHON" && return 0 ;;
            *) on_path "$STORYSTICK_PYTHON" && return 0 ;;
        esac
        say "STORYSTICK_PYTHON is $STORYSTICK_PYTHON, which will not do."
        say "It must be CPython 3.12, 3.13 or 3.14, 64-bit, with the modules venv, ensurepip, ssl and zlib."
        exit 69
    fi
    for name in python3.14 python3.13 python3.12 python3 python; do
        on_path "$name" && return 0
    done
    for minor in 14 13 12; do
        places "$minor" && return 0
    done
    no_python
}

no_python() {
    cat_lines >&2 <<'END'
storystick: found no Python that will do.

It needs CPython 3.12, 3.13 or 3.14, 64-bit, with the modules venv, ensurepip, ssl and zlib:

  Debian 13, Ubuntu 24.04 and later   sudo apt-get install python3 python3-venv
  Fedora                              sudo dnf install python3
  macOS                               brew install python@3.13
  with uv, on any of them             uv python install 3.13

Then run the same command again. If yours lies in an unusual place, name it:

  STORYSTICK_PYTHON=/where/it/is/bin/python3 ./storystick
END
    [ -z "$unfit" ] || printf '\nLooked at, and too old or not whole:%s\n' "$unfit" >&2
    exit 69
}

# cat, without the program: here there may be nothing on PATH.
cat_lines() { while IFS= read -r line; do printf '%s\n' "$line"; done; }

# ready LOCK: .venv is whole, and was made from this very lock (run or dev).
ready() {
    [ -x "$root/.venv/bin/python" ] && [ ! -e "$root/.venv/unfinished" ] && [ -f "$root/.venv/$1.lock" ] &&
        [ "$(cat "$root/.venv/$1.lock")" = "$(cat "$root/requirements/$1.txt")" ]
}

# bring LOCK: have .venv as that lock says.
bring() {
    if [ "${STORYSTICK_SHOW:-}" = python ]; then
        find_python
        printf '%s\n' "$python"
        exit 0
    fi
    ready "$1" && return 0
    find_python
    "$python" -I "$root/tools/venv.py" "$root" "$1" || exit
}
