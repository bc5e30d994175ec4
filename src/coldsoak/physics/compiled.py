"""The one decorator that turns a physical function into machine code."""

import hashlib
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import TypeVar

import numba
from platformdirs import user_cache_path

Function = TypeVar("Function", bound=Callable[..., object])


@cache
def cache_folder() -> Path:
    """Folder of the compiled code, one for each state of the sources.

    Numba renews a cached function when its own file changes, not when a function it calls
    in another file does, so the folder's name carries a hash of every compiled source.
    """
    package = Path(__file__).parent.parent
    digest = hashlib.sha256(numba.__version__.encode())
    for source in sorted([*package.glob("physics/**/*"), *package.glob("night/*.py")]):
        if source.suffix in {".py", ".json"}:
            digest.update(source.read_bytes())
    return user_cache_path("coldsoak") / digest.hexdigest()[:16]


def compiled(function: Function) -> Function:
    """Compile a function of floats and arrays on its first call and keep the result on disk."""
    before = numba.config.CACHE_DIR
    numba.config.CACHE_DIR = before or str(cache_folder())
    try:
        return numba.njit(cache=True, nogil=True, error_model="numpy")(function)
    finally:
        numba.config.CACHE_DIR = before
