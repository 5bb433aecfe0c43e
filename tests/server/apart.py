"""Run a coroutine where no event loop runs yet: browser tests leave one behind in the thread of their worker."""

import asyncio
from collections.abc import Coroutine
from concurrent.futures import ThreadPoolExecutor
from typing import Any, TypeVar

Result = TypeVar("Result")


def run_apart(work: Coroutine[Any, Any, Result]) -> Result:
    """The coroutine's result, from an event loop of its own in a thread of its own."""
    with ThreadPoolExecutor(1) as pool:
        return pool.submit(asyncio.run, work).result()
