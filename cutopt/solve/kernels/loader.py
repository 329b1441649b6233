"""Kernels as plain Python or compiled: the same sources, loaded twice.

`load(name)` gives the plain module at once; `load(name, compiled=True)` gives a second copy of the module whose
functions numba compiles (cached on disk). The first plan is made with the plain one while the other compiles.

The copies live in a package of their own over the same files. Kernels import each other relatively (`from .tree import
cloth`), so a compiled one meets compiled ones only.
"""

from __future__ import annotations

import functools
import hashlib
import importlib
import os
import stat
import sys
import tempfile
from collections.abc import Callable, Iterator
from importlib.machinery import ModuleSpec
from importlib.util import module_from_spec
from pathlib import Path
from types import ModuleType
from typing import Any, Final

_HOME: Final = Path(__file__).parent
# the package of the copies
_COMPILED: Final = f"{__package__}_compiled"


def jit(function: Callable[..., Any]) -> Callable[..., Any]:
    """Decorator of kernel functions that only kernels call: without wrappers for Python, to compile sooner."""
    return _compiled(function, no_cpython_wrapper=True, no_cfunc_wrapper=True)


def inlined(function: Callable[..., Any]) -> Callable[..., Any]:
    """Decorator of kernel functions that stand in a hot loop: written into their callers.

    A call passes each field of each array of a named tuple, which takes longer than some functions do.
    """
    return _compiled(
        function, inline="always", no_cpython_wrapper=True, no_cfunc_wrapper=True
    )


def entry(function: Callable[..., Any]) -> Callable[..., Any]:
    """Decorator of kernel functions that Python calls: njit in the compiled copy, else nothing."""
    return _compiled(function)


def _compiled(function: Callable[..., Any], **options: Any) -> Callable[..., Any]:
    if not function.__module__.startswith(f"{_COMPILED}."):
        return function
    import numba
    from numba.core.options import DefaultOptions

    # Kernels allocate nothing, so nobody need count who holds an array: these counts, atomic and shared by both
    # streams, took three quarters of a round. The option is numba's own; without it kernels are only slower.
    if hasattr(DefaultOptions, "_nrt"):
        options["_nrt"] = False
    njit: Any = numba.njit
    return _one_for_all_numbers(
        njit(cache=True, nogil=True, error_model="numpy", **options)(function)
    )


def _one_for_all_numbers(compiled: Any) -> Callable[..., Any]:
    """Let a kernel that is called with the constant 0 be the one for any number.

    Else numba compiles it again for each constant, and getting ready takes twice as long.
    """
    from numba import types

    template = compiled.get_call_template
    compiled.get_call_template = lambda args, kws: template(
        tuple(map(types.unliteral, args)), kws
    )
    return compiled  # type: ignore[no-any-return]


def load(name: str, *, compiled: bool = False) -> ModuleType:
    """The kernel module `name`, plain or compiled; loading compiles nothing yet, the first call does."""
    package = _compiled_package() if compiled else str(__package__)
    return importlib.import_module(f"{package}.{name}")


@functools.cache
def _compiled_package() -> str:
    """The name of the package of the copies, which from now on can be imported from as from any other."""
    _use(cache_folder())
    spec = ModuleSpec(_COMPILED, None, is_package=True)
    spec.submodule_search_locations = [str(_HOME)]
    # one for all threads
    sys.modules.setdefault(_COMPILED, module_from_spec(spec))
    return _COMPILED


@functools.cache
def cache_folder() -> Path:
    """Where compiled code is kept: a folder named after the kernels' sources, so that no stale code is ever run.

    `NUMBA_CACHE_DIR` overrides it; where neither it nor the user's cache can be written (a read-only home, or none) a
    temporary one serves, the same for the next process where folders have owners.

    Raises
    ------
    AssertionError
        Where not even a new temporary folder can be written.
    """
    # numba keeps code by the place of its source, so a copy elsewhere is not ready yet
    sources = b"".join(p.read_bytes() for p in sorted(_HOME.glob("*.py")))
    stamp = hashlib.sha256(f"{_HOME} {sys.version}".encode() + sources).hexdigest()
    for base in _bases():
        folder = base / stamp[:16]
        try:
            folder.mkdir(parents=True, exist_ok=True)
            (folder / ".write").touch()
        except OSError:
            continue
        return folder
    raise AssertionError("a new temporary folder can be written")


def _bases() -> Iterator[Path]:
    """Folders for compiled code, the best first."""
    if own := os.environ.get("NUMBA_CACHE_DIR"):
        yield Path(own)
    else:
        try:
            yield (
                Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache")
                / "cutopt"
            )
        except RuntimeError:
            # nobody's home
            pass
    if hasattr(os, "getuid"):
        ours = Path(tempfile.gettempdir()) / f"cutopt-{os.getuid()}"
        if _is_private(ours):
            yield ours
    yield Path(tempfile.mkdtemp(prefix="cutopt-"))


def _is_private(folder: Path) -> bool:
    """Whether nobody else can write into a folder, which is made: code that is loaded from it is run."""
    try:
        folder.mkdir(mode=0o700, exist_ok=True)
        found = folder.lstat()
    except OSError:
        return False
    return (
        stat.S_ISDIR(found.st_mode)
        and found.st_uid == os.getuid()
        and not found.st_mode & 0o077
    )


def _use(folder: Path) -> None:
    import numba

    settings: Any = numba.config
    settings.CACHE_DIR = str(folder)
