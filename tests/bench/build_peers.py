"""Builds the C++ peers of the bench from the packages of the running environment.

pinocchio and coal: the headers and libraries inside their wheels. ssik: the headers inside its wheel. eaik: its source
package, fetched by pip, because its wheel carries no headers. Each becomes a shared library with a C interface, in
tests/bench/.peers (not in git). All but coal are built twice, with and without the machine's own instruction set: the
bench takes the faster one. coal's library holds pinocchio too, and the one for
whole maps holds all three.
"""

from __future__ import annotations

import argparse
import os
import platform
import shutil
import site
import subprocess
import sys
import tarfile
import tempfile
from concurrent.futures import ThreadPoolExecutor
from importlib.metadata import version
from pathlib import Path

HERE = Path(__file__).resolve().parent
SOURCES = HERE / "peers"
OUT = HERE / ".peers"

# Without these pinocchio's headers do not compile against the boost that comes with the wheel.
PIN_DEFINES = [
    "-DBOOST_MPL_LIMIT_LIST_SIZE=30",
    "-DBOOST_MPL_LIMIT_VECTOR_SIZE=30",
    "-DBOOST_MPL_CFG_NO_PREPROCESSED_HEADERS",
    "-DBOOST_FUSION_INVOKE_MAX_ARITY=12",
]
COAL_DEFINES = [
    "-DCOAL_HAS_OCTOMAP",
    "-DCOAL_HAVE_OCTOMAP",
    "-DOCTOMAP_MAJOR_VERSION=1",
    "-DOCTOMAP_MINOR_VERSION=10",
    "-DOCTOMAP_PATCH_VERSION=0",
]
COMMON = ["-std=c++20", "-O3", "-DNDEBUG", "-fPIC", "-shared", "-w"]
NAMES = ["pin", "pin_native", "eaik", "eaik_native", "ssik", "ssik_native", "coal", "map", "map_native"]
# Eigen's types as the libraries in the wheels know them, whatever the instruction set.
SAME_LAYOUT = ["-DEIGEN_MAX_ALIGN_BYTES=16"]


class PeerError(RuntimeError):
    """A peer could not be built; says which and why."""


def wheel_prefix() -> Path:
    """Where the wheels of pinocchio and coal keep their headers and libraries."""
    for folder in [*site.getsitepackages(), site.getusersitepackages()]:
        prefix = Path(folder) / "cmeel.prefix"
        if (prefix / "include" / "pinocchio").is_dir():
            return prefix
    raise PeerError("pinocchio's headers are not in this environment: pip install 'armwright[peers]'")


def eigen_include() -> Path:
    for folder in [Path("/usr/include/eigen3"), Path("/usr/local/include/eigen3")]:
        if (folder / "Eigen" / "Core").exists():
            return folder
    raise PeerError("Eigen's headers are not on this machine: apt-get install libeigen3-dev")


def compiler() -> str:
    for name in ["g++", "clang++"]:
        if found := shutil.which(name):
            return found
    raise PeerError("no C++ compiler on this machine: apt-get install g++")


def eaik_sources(folder: Path) -> Path:
    """Fetches and unpacks eaik's source package of the installed version."""
    wanted = f"eaik=={version('eaik')}"
    ask = [
        sys.executable,
        "-m",
        "pip",
        "download",
        "--quiet",
        "--no-deps",
        "--no-binary",
        ":all:",
        "--dest",
        str(folder),
        wanted,
    ]
    if subprocess.run(ask, capture_output=True, check=False).returncode != 0:
        raise PeerError(f"pip could not fetch the source package of {wanted}")
    archive = next(folder.glob("*.tar.gz"))
    with tarfile.open(archive) as tar:
        tar.extractall(folder, filter="data") if sys.version_info >= (3, 12) else tar.extractall(folder)
    return next(folder.glob("eaik-*/CPP"))


def ssik_include() -> str:
    """The headers in ssik's wheel."""
    try:
        import ssik.cpp
    except ImportError:
        raise PeerError("ssik is not in this environment: pip install 'armwright[peers]'") from None
    return str(ssik.cpp.get_include())


def eaik_parts(scratch: Path) -> list[str]:
    """Include folders and sources of eaik."""
    cpp = eaik_sources(scratch)
    own = [cpp / "src" / folder for folder in ["", "utils", "IK", "IK/utils"]]
    files = [p for folder in [cpp / "src", cpp / "external"] for p in folder.rglob("*.cpp")]
    return [*[f"-I{f}" for f in [*own, cpp / "external/ik-geo/cpp/subproblems"]], *map(str, files)]


def commands(name: str, scratch: Path, library: Path) -> list[str]:
    """The compiler's command line for one peer."""
    eigen = ["-isystem", str(eigen_include())]
    native = ["-march=native"] if name.endswith("_native") else []
    target = ["-o", str(library)]
    if name.startswith("eaik"):
        own = [*eaik_parts(scratch), str(SOURCES / "eaik_peer.cpp"), "-pthread"]
        return [compiler(), *COMMON, *native, *eigen, *own, *target]
    if name.startswith("ssik"):
        return [
            compiler(),
            *COMMON,
            *native,
            *eigen,
            "-isystem",
            ssik_include(),
            str(SOURCES / "ssik_peer.cpp"),
            "-pthread",
            *target,
        ]
    prefix = wheel_prefix()
    call = [compiler(), *COMMON, *native, *eigen, "-isystem", str(prefix / "include"), *PIN_DEFINES]
    lib = str(prefix / "lib")
    with_coal = [f"-L{lib}", "-lcoal", f"-Wl,-rpath,{lib}", *target]
    if name == "coal":
        return [*call, *COAL_DEFINES, str(SOURCES / "coal_peer.cpp"), *with_coal]
    if name.startswith("map"):
        own = [*eaik_parts(scratch), str(SOURCES / "map_peer.cpp"), "-pthread"]
        return [*call, *COAL_DEFINES, *SAME_LAYOUT, *own, *with_coal]
    return [*call, str(SOURCES / "pin_peer.cpp"), *target]


def build(name: str, *, again: bool = False) -> Path:
    """Builds one peer unless it is there already and newer than its sources; returns the library's path."""
    library = OUT / f"{name}.so"
    parts = {"pin": ["pin"], "eaik": ["eaik"], "ssik": ["ssik"], "coal": ["pin", "coal"], "map": ["pin", "coal", "map"]}
    uses = parts[name.removesuffix("_native")]
    sources = [SOURCES / "clock.hpp", *(SOURCES / f"{used}_peer.cpp" for used in uses)]
    newest = max(source.stat().st_mtime for source in sources)
    if library.exists() and library.stat().st_mtime > newest and not again:
        return library
    OUT.mkdir(exist_ok=True)
    unfinished = OUT / f"unfinished-{name}-{os.getpid()}.so"  # another process may load it, or build it as well
    with tempfile.TemporaryDirectory() as scratch:
        print(f"building the peer {name} ...", file=sys.stderr, flush=True)
        done = subprocess.run(commands(name, Path(scratch), unfinished), capture_output=True, text=True, check=False)
    if done.returncode != 0:
        raise PeerError(f"{name} did not compile:\n{done.stderr[-2000:]}")
    unfinished.replace(library)
    return library


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("names", nargs="*", default=NAMES, help=f"peers to build, of: {', '.join(NAMES)}")
    parser.add_argument("--again", action="store_true", help="build even if it is there")
    parser.add_argument("--jobs", type=int, default=1, help="how many at once; each may take 3 GB (%(default)s)")
    asked = parser.parse_args()
    if platform.system() != "Linux":
        raise SystemExit("the peers are built on Linux only")
    with ThreadPoolExecutor(asked.jobs) as pool:
        for library in pool.map(lambda name: build(name, again=asked.again), asked.names):
            print(library)


if __name__ == "__main__":
    main()
