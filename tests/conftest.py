"""What holds for every test: no network (but to our own server in `e2e`), one thread."""

import os
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

# Our matrices are small: threads that wait for each other cost three times what they bring, most
# of all beside other tests. Read when numpy is first imported, so set before anything imports it.
for _name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):
    os.environ.setdefault(_name, "1")

END_TO_END = Path(__file__).parent / "e2e"
LOOPBACK = {"127.0.0.1", "::1", "localhost"}
_WATCHED = {"socket.bind", "socket.connect", "socket.getaddrinfo", "socket.sendto"}

_loopback_allowed = False


class NetworkReachedError(RuntimeError):
    """A test tried to use the network."""


def _refuse_network(event: str, arguments: tuple[object, ...]) -> None:
    # An audit hook sees what third-party code and other threads do too; it can't be taken off.
    if event not in _WATCHED:
        return
    target = arguments[0] if event == "socket.getaddrinfo" else arguments[1]
    if isinstance(target, str | bytes) and event != "socket.getaddrinfo":
        return  # a socket in the file system, as worker processes use
    host = target[0] if isinstance(target, tuple) and target else target
    if _loopback_allowed and host in LOOPBACK:
        return
    message = f"A test reached for the network ({event}, {host!r}); use a fake or tests/e2e."
    raise NetworkReachedError(message)


sys.addaudithook(_refuse_network)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Iterator[None]:
    """Open this machine's own addresses for one end-to-end test and its fixtures."""
    global _loopback_allowed  # noqa: PLW0603  the hook above has no other way to know
    _loopback_allowed = END_TO_END in item.path.parents
    try:
        return (yield)
    finally:
        _loopback_allowed = False
