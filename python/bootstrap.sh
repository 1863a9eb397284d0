#!/usr/bin/env bash
# Takes a bare Debian 12 or Ubuntu 24.04 to a working armwright. `bash python/bootstrap.sh help` says the rest.
set -Eeuo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

usage() {
  cat <<'TEXT'
usage: bash python/bootstrap.sh demo|test|build|docs|help

  demo    everything needed, then the demonstration; its pictures and pages go to demo-output/
  test    everything needed, then all tests: style, types, the core, the notebooks, the package
  build   everything needed, and the package in a virtual environment, no more
  help    this text

Each may be run again at any time; what is already done is not done twice. Logs are in .build/logs/.

Environment:
  PYTHON            the interpreter to use (3.10 to 3.13); otherwise the newest that is found
  ARMWRIGHT_VENV    the virtual environment's folder (.venv)
  ARMWRIGHT_JOBS    compilers at once (as many as processors and memory allow)
  ARMWRIGHT_NO_APT  set to 1 to leave the system packages alone

For those who work on it:
  docs      build, then the documentation's pages, into .build/docs
  stubs     build, then write the stubs of the extension module anew
  lint      style and types only

For continuous integration:
  pythons   lists the usable interpreters, newest first
  check     build, then only the tests of the Python package, without the peer libraries and the whole demonstration
TEXT
}

# ---- telling ---------------------------------------------------------------------------------------------------------

logs=.build/logs
stamps=.build/stamps
current="starting"
# Whether somebody is there who can be asked for sudo's password.
terminal=$([ ! -t 0 ] || echo yes)

say() { printf '%s\n' "armwright: $*"; }

fail() { # sentence [what to try]
  printf '\narmwright: %s\n' "$1" >&2
  [ $# -lt 2 ] || printf 'armwright: %s\n' "$2" >&2
  exit 1
}

trap 'fail "stopped by an unexpected error while $current (bootstrap.sh line $LINENO)." "The logs are in $logs/."' ERR
trap 'printf "\narmwright: interrupted while %s; run the same command again to go on.\n" "$current" >&2; exit 130' INT TERM

# Runs a command, and ends it if it takes longer than ever it should: where nobody watches, nobody would interrupt it. It
# stays in the foreground, so that Ctrl-C goes on to reach it.
within() { # seconds command...
  timeout --foreground --kill-after=30 "$@"
}

failed() { # status sentence log what-to-try
  local late=""
  [ "$1" != 124 ] || late=" (ended because it took too long)"
  fail "failed while $2$late. The whole log: $3" "$4"
}

# Runs a command into a log; on failure shows the log's end and what to try.
step() { # log-name sentence what-to-try command...
  local log="$logs/$1.log" sentence="$2" advice="$3" started=$SECONDS status=0
  shift 3
  current="$sentence"
  printf 'armwright: %s ... ' "$sentence"
  "$@" >"$log" 2>&1 </dev/null || status=$?
  if [ "$status" = 0 ]; then
    printf 'done (%d s)\n' $((SECONDS - started))
    return 0
  fi
  printf 'FAILED (%d s)\n\n' $((SECONDS - started))
  tail -n 40 "$log" | sed 's/^/    /'
  failed "$status" "$sentence" "$log" "$advice"
}

# The same for a command whose output the reader wants to see as it comes.
show() { # log-name sentence what-to-try command...
  local log="$logs/$1.log" sentence="$2" advice="$3" status=0
  shift 3
  current="$sentence"
  say "$sentence"
  "$@" </dev/null 2>&1 | tee "$log" || status=$?
  [ "$status" = 0 ] || failed "$status" "$sentence" "$log" "$advice"
}

# ---- what is done already ----------------------------------------------------------------------------------------------

# One digest of the contents of files and folders, and of what else is given after "--".
digest() {
  local paths=()
  while [ $# -gt 0 ] && [ "$1" != "--" ]; do [ ! -e "$1" ] || paths+=("$1"); shift; done
  {
    find "${paths[@]}" -type f ! -name '*.pyc' ! -name '*.so' -print0 | LC_ALL=C sort -z | xargs -0 -r sha256sum
    printf '%s\n' "$@"
  } | sha256sum | cut -d' ' -f1
}

stamped() { [ -f "$stamps/$1" ] && [ "$(cat "$stamps/$1")" = "$2" ]; }
stamp() { printf '%s\n' "$2" >"$stamps/$1"; }

# ---- system packages -----------------------------------------------------------------------------------------------------

is_installed() { dpkg-query -W -f '${Status}' "$1" 2>/dev/null | grep -q '^install ok installed$'; }

distribution() { (. /etc/os-release 2>/dev/null && printf '%s\n' "${ID:-unknown}") || echo unknown; }

apt_install() {
  # The time limit is inside of sudo: from outside, what root runs could not be ended.
  local get=(timeout --foreground --kill-after=30 3600 apt-get -y -o DPkg::Lock::Timeout=300 -o Acquire::Retries=3)
  if [ "$(id -u)" = 0 ]; then :
  elif [ -n "$terminal" ]; then get=(sudo env DEBIAN_FRONTEND=noninteractive "${get[@]}")
  else get=(sudo -n env DEBIAN_FRONTEND=noninteractive "${get[@]}")
  fi
  # A package list of somebody else's that cannot be fetched is no reason to stop: what counts is the install.
  DEBIAN_FRONTEND=noninteractive "${get[@]}" update || echo "apt-get update failed in part; going on with what there is"
  DEBIAN_FRONTEND=noninteractive "${get[@]}" install --no-install-recommends "$@"
}

may_sudo() { command -v sudo >/dev/null && { sudo -n true 2>/dev/null || [ -n "$terminal" ]; }; }

system_packages() { # package...
  current="looking for the system packages"
  [ "${ARMWRIGHT_NO_APT:-}" != 1 ] || { say "system packages are left alone (ARMWRIGHT_NO_APT=1)"; return 0; }
  local missing=() package by_hand
  if ! command -v apt-get >/dev/null || ! command -v dpkg-query >/dev/null; then
    fail "this system has no apt, so the system packages cannot be installed from here." \
      "Install a C++20 compiler, cmake, ninja, Eigen 3.4, Bullet in double precision and Catch2 by hand, then run again with ARMWRIGHT_NO_APT=1."
  fi
  for package in "$@"; do is_installed "$package" || missing+=("$package"); done
  if [ ${#missing[@]} = 0 ]; then say "system packages are all there"; return 0; fi
  by_hand="apt-get install --no-install-recommends ${missing[*]}"
  if [ "$(id -u)" != 0 ] && ! may_sudo; then
    fail "these system packages are missing, and only root may install them (you are $(id -un), and sudo is not there or asks for a password): ${missing[*]}" \
      "Ask whoever looks after this machine to run: $by_hand    Then run the same command again."
  fi
  step system-packages "installing system packages: ${missing[*]}" \
    "Check the network and the package sources, or try by hand: $by_hand" apt_install "${missing[@]}"
}

# ---- Python -----------------------------------------------------------------------------------------------------------------

# Prints "3.11 /path/to/python3.11" if that interpreter runs and is one that the package supports.
probe() {
  within 60 "$1" -c '
import sys
if (3, 10) <= sys.version_info[:2] <= (3, 13) and sys.implementation.name == "cpython":
    import ctypes, os, ssl, zlib
    print("%d.%d" % sys.version_info[:2], os.path.realpath(getattr(sys, "_base_executable", sys.executable)))
' 2>/dev/null </dev/null || true
}

# All usable interpreters, newest first, one for each version: those on the path, then those of a pyenv.
pythons() {
  local name
  {
    for name in python3.13 python3.12 python3.11 python3.10 python3 python \
      /usr/bin/python3 "${PYENV_ROOT:-${HOME:-/nowhere}/.pyenv}"/versions/*/bin/python; do
      ! command -v "$name" >/dev/null || probe "$name"
    done
  } | sort -s -t. -k2,2nr | awk '!seen[$1]++ { print $2 }'
}

# What a distribution's interpreter comes without: the packages with venv and with the C headers.
python_packages() { # interpreter
  local version
  version=$("$1" -c 'import sys; print("%d.%d" % sys.version_info[:2])')
  case "$1" in
    /usr/bin/*)
      "$1" -c 'import venv, ensurepip' 2>/dev/null || echo "python$version-venv"
      "$1" -c 'import os, sysconfig; os.stat(sysconfig.get_path("include") + "/Python.h")' 2>/dev/null || echo "python$version-dev"
      ;;
  esac
}

choose_python() {
  current="looking for Python"
  if [ -n "${PYTHON:-}" ]; then
    python=$(probe "$PYTHON" | cut -d' ' -f2-)
    [ -n "$python" ] || fail "PYTHON=$PYTHON does not run, or is not a CPython from 3.10 to 3.13 with ssl, zlib and ctypes." \
      "Name another interpreter, or leave PYTHON unset."
    return 0
  fi
  # The interpreter of an environment that stands is kept, unless it is gone.
  python=""
  [ ! -x "$venv/bin/python" ] || python=$(probe "$venv/bin/python" | cut -d' ' -f2-)
  [ -n "$python" ] || python=$(pythons | sed -n 1p)
}

virtual_environment() {
  current="making the virtual environment"
  local wanted
  wanted="$python $("$python" -c 'import sys; print(sys.version.split()[0])')"
  if [ -x "$venv/bin/python" ] && stamped "venv-$venv_name" "$wanted"; then
    say "virtual environment $venv is there ($wanted)"
    return 0
  fi
  rm -rf "$venv"
  rm -f "$stamps"/*"-$venv_name"
  step venv "making the virtual environment $venv with $wanted" \
    "If the log speaks of ensurepip, this Python lacks its venv module: name another one with PYTHON=..." \
    "$python" -m venv "$venv"
  stamp "venv-$venv_name" "$wanted"
}

# Not compiling to bytecode saves a minute and some space; what is imported is compiled then.
pip_install() {
  within 3600 "$venv/bin/python" -m pip install --disable-pip-version-check --no-input --prefer-binary --no-compile "$@"
}

network="Check the network and the disk; behind a proxy or a mirror, pip's own settings apply. Then run the same command again."

# The dependencies first and apart, so that a change of the sources does not ask the network again.
dependencies() { # extra...
  local lists=() digest_now
  local extras="$*"
  digest_now=$(digest pyproject.toml -- "$extras")
  if stamped "dependencies-$venv_name" "$digest_now"; then say "Python dependencies are there"; return 0; fi
  step requirements "reading the dependencies from pyproject.toml" "Look at pyproject.toml." \
    read_requirements "$extras"
  mapfile -t lists <.build/requirements.txt
  step pip-dependencies "installing Python dependencies${extras:+ (with $extras)}; the first time takes minutes" "$network" \
    pip_install "${lists[@]}"
  stamp "dependencies-$venv_name" "$digest_now"
}

# The peer libraries only serve as yardsticks, and have no wheel for every machine: without them the tests that need
# them are skipped, and say so. Where the tests decide about a change (CI), all of them have to run.
peers() {
  local lists=() digest_now
  digest_now=$(digest pyproject.toml -- peers)
  if stamped "peers-$venv_name" "$digest_now"; then say "the peer libraries are there"; return 0; fi
  read_requirements peers only
  mapfile -t lists <.build/requirements.txt
  if [ -z "${CI:-}" ] && ! pip_install --dry-run --only-binary :all: "${lists[@]}" >"$logs/peers.log" 2>&1 </dev/null; then
    say "the peer libraries are not to be had for this Python (see $logs/peers.log): the tests against them will be skipped"
    return 0
  fi
  step peers "installing the peer libraries that the tests compare with" "$network" \
    pip_install --only-binary :all: "${lists[@]}"
  stamp "peers-$venv_name" "$digest_now"
}

read_requirements() { # extras [only]
  # tomli comes with pip, under another name, on the one version that has no tomllib.
  "$venv/bin/python" - "$@" >.build/requirements.txt <<'PYTHON'
import sys
try:
    import tomllib
except ImportError:
    from pip._vendor import tomli as tomllib
with open("pyproject.toml", "rb") as file:
    table = tomllib.load(file)
wanted = [] if "only" in sys.argv else table["build-system"]["requires"] + table["project"]["dependencies"]
for extra in sys.argv[1].split():
    wanted += table["project"]["optional-dependencies"][extra]
print("\n".join(wanted))
PYTHON
}

# Without build isolation, as what the build needs is among the dependencies: an isolated build would compile
# everything anew for the change of a comment.
package() { # strict or plain
  local kind="$1" digest_now settings=()
  digest_now=$(digest pyproject.toml CMakeLists.txt README.md docs/LICENSE cpp python/armwright -- "$python")
  if stamped "package-$venv_name" "strict $digest_now" || stamped "package-$venv_name" "$kind $digest_now"; then
    say "the package is built and installed"
    return 0
  fi
  [ "$kind" = plain ] || settings=(--config-settings=cmake.define.ARMWRIGHT_WERROR=ON)
  step package "building the package with $jobs compilers and installing it; the first time takes minutes" \
    "If a compiler was killed, memory ran out: try ARMWRIGHT_JOBS=1. If a line of source is wrong, the log names it." \
    pip_install --no-build-isolation --no-deps --force-reinstall "${settings[@]}" .
  step import "importing the package" "Delete $venv and .build and run again; if that does not help, the log has the reason." \
    "$venv/bin/python" -c 'import armwright; print(armwright.__file__)'
  stamp "package-$venv_name" "$kind $digest_now"
}

# What the packages for two Pythons and the core's own tests have in common is compiled once. Kept inside the checkout. One
# name of the compiler for all: left to themselves, the package's build takes what Python was built with.
compiler_cache() {
  command -v ccache >/dev/null && [ -z "${CMAKE_CXX_COMPILER_LAUNCHER:-}" ] || return 0
  export CMAKE_CXX_COMPILER_LAUNCHER=ccache CCACHE_DIR="$PWD/.build/ccache" CCACHE_TEMPDIR="$PWD/.build/ccache/tmp"
  export CXX="${CXX:-c++}"
}

# ---- the commands -------------------------------------------------------------------------------------------------------------

disk_space() { # megabytes needed when starting from nothing
  current="looking at the disk"
  [ ! -d "$venv" ] || return 0
  local free
  free=$(df -Pm . | awk 'NR == 2 { print $4 }')
  [ "$free" -ge "$1" ] || fail "only $free MB are free here, and this takes about $1 MB from nothing." \
    "Free some space, or put the checkout on another disk."
}

prepare() { # packages of the system, in one word; kind; extras
  local packages="$1" kind="$2" extra_packages=()
  shift 2
  choose_python
  if [ -z "$python" ]; then packages="$packages python3 python3-venv python3-dev"
  else mapfile -t extra_packages < <(python_packages "$python")
  fi
  # shellcheck disable=SC2086  # a list of words
  system_packages $packages "${extra_packages[@]}"
  [ -n "$python" ] || choose_python
  [ -n "$python" ] || fail "no Python from 3.10 to 3.13 was found." "Install one, or name one with PYTHON=/path/to/python3."
  case " $packages " in *" ccache "*) compiler_cache ;; esac
  virtual_environment
  dependencies "$@"
  package "$kind"
}

# pango: the report as PDF.
build_packages="build-essential cmake ninja-build libeigen3-dev libbullet-dev libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"

test_packages() {
  echo "$build_packages ccache catch2 git poppler-utils"
  # The 3-D page is tried in a browser. Ubuntu's package of this name is a stub that fetches a snap.
  [ "$(distribution)" != debian ] || echo chromium
}

demo() {
  disk_space 2500
  prepare "$build_packages" plain pdf export
  show demo "running the demonstration into demo-output/" "The message above says what was wrong." \
    within 3600 "$venv/bin/armwright" demo demo-output
  say "the pictures and pages are in $PWD/demo-output"
}

core_tests() {
  step core-configure "configuring the core's own tests" "If a package is not found, its system package is missing: see $logs/system-packages.log." \
    cmake -S . -B .build/core -G Ninja -DCMAKE_BUILD_TYPE=Release \
    -DARMWRIGHT_PYTHON=OFF -DARMWRIGHT_TESTS=ON -DARMWRIGHT_WERROR=ON
  step core-build "compiling the core and its tests with $jobs compilers, warnings as errors" \
    "If a compiler was killed, memory ran out: try ARMWRIGHT_JOBS=1. If a line of source is wrong, the log names it." \
    cmake --build .build/core --parallel "$jobs"
  show core-tests "testing the core" "One room alone: .build/core/tests/cpp/test_<room>" \
    ctest --test-dir .build/core --output-on-failure --no-tests=error --parallel "$jobs"
}

make_notebooks() {
  local text
  for text in "$@"; do
    "$venv/bin/python" -m jupytext --quiet --set-kernel python3 --to ipynb \
      --output ".build/notebooks/$(basename "$text" .py).ipynb" "$text" || return 1
  done
}

notebook_tests() {
  local notebooks=(notebooks/*.py)
  [ -e "${notebooks[0]}" ] || fail "there is no notebook in notebooks/." "Is the checkout complete?"
  rm -rf .build/notebooks
  mkdir -p .build/notebooks
  step notebook-texts "turning the notebooks' texts into notebooks" "The log names the notebook." \
    make_notebooks "${notebooks[@]}"
  step notebooks "running the notebooks" "The log shows the cell that failed." \
    within 3600 "$venv/bin/python" -m pytest -n "$jobs" -p no:cacheprovider --nbmake --nbmake-timeout=240 .build/notebooks
}

pages() {
  rm -rf .build/docs
  step pages "building the documentation's pages, warnings as errors" "The log names the page and the line." \
    within 900 "$venv/bin/python" -m sphinx -W --keep-going -q -b html docs .build/docs
}

docs() {
  disk_space 3000
  prepare "$build_packages" plain test
  pages
  say "the pages are in $PWD/.build/docs: open index.html"
}

# The longest first. Minutes, so only where the tests decide about a change; elsewhere the bench's test says what it skips.
bench_peers() {
  [ "${CI:-}" = true ] || return 0
  local at_once=1  # each takes 3 GB
  [ "$jobs" = 1 ] || at_once=$(awk '/^MemAvailable:/ { print ($2 > 7500000 ? 2 : 1) }' /proc/meminfo)
  step bench-peers "compiling the libraries that the bench compares with" \
    "If a compiler was killed, memory ran out: try ARMWRIGHT_JOBS=1." \
    within 3600 "$venv/bin/python" tests/bench/build_peers.py --jobs "$at_once" coal eaik
}

stubs() {
  disk_space 3000
  prepare "$build_packages" strict test
  rm -rf .build/stubs
  step stubs "writing python/armwright/_core/*.pyi" "The log names what could not be described." \
    "$venv/bin/pybind11-stubgen" armwright._core -o .build/stubs --numpy-array-use-type-var
  cp .build/stubs/armwright/_core/*.pyi python/armwright/_core/
}

lint() {
  step ruff "checking the style of the Python sources" "Try: $venv/bin/ruff check --fix" "$venv/bin/ruff" check --output-format concise
  step mypy "checking the types" "Try: $venv/bin/mypy --strict python/armwright" "$venv/bin/mypy" --strict python/armwright
}

tests() {
  disk_space 5000
  prepare "$(test_packages | tr '\n' ' ')" strict test
  peers
  lint
  pages
  export ARMWRIGHT_PAGES=.build/docs
  core_tests
  notebook_tests
  bench_peers
  show pytest "testing the package" "One test alone: $venv/bin/python -m pytest tests/... -k name" \
    within 3600 "$venv/bin/python" -m pytest -n "$jobs" --dist worksteal -rfEs
}

check() {
  disk_space 3000
  prepare "$build_packages ccache" strict test
  show "pytest-$venv_name" "testing the package with $python" "One test alone: $venv/bin/python -m pytest tests/... -k name" \
    within 3600 "$venv/bin/python" -m pytest -n "$jobs" --dist worksteal -m "not whole_demo" tests/python
}

parallel_jobs() {
  local processors memory
  processors=$(nproc)
  memory=$(awk '/^MemAvailable:/ { print int($2 / 1500000) }' /proc/meminfo)
  jobs=$((memory < processors ? memory : processors))
  jobs=$((jobs < 1 ? 1 : jobs))
}

main() {
  local command="${1:-help}"
  [ $# -le 1 ] || { usage >&2; fail "one command at a time; got: $*"; }
  case "$command" in
    help | -h | --help) usage; return 0 ;;
    pythons) pythons; return 0 ;;
    demo | test | build | check | docs | stubs | lint) ;;
    *) usage >&2; fail "no such command: $command" ;;
  esac

  mkdir -p "$logs" "$stamps" 2>/dev/null && [ -w . ] || fail "this checkout cannot be written to: $PWD" "Make a clone of your own."
  # What a developer's shell may hold would hide what was installed.
  unset PYTHONPATH PYTHONHOME
  export PIP_REQUIRE_VIRTUALENV=0 MPLBACKEND=Agg
  venv="${ARMWRIGHT_VENV:-.venv}"
  venv_name=$(basename "$venv")
  jobs="${ARMWRIGHT_JOBS:-}"
  [ -n "$jobs" ] || parallel_jobs
  export CMAKE_BUILD_PARALLEL_LEVEL="$jobs"

  case "$command" in
    build) disk_space 2500; prepare "$build_packages" plain; say "ready: $venv/bin/armwright --help" ;;
    test) tests ;;
    lint) disk_space 3000; prepare "$build_packages" strict test; lint ;;
    *) "$command" ;;
  esac
}

main "$@"
