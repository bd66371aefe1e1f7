"""The guard in conftest.py works."""

import socket

import pytest


@pytest.mark.parametrize("host", ["127.0.0.1", "192.0.2.1"])
def test_a_test_that_connects_is_stopped_before_anything_is_sent(host: str) -> None:
    with (
        socket.socket() as line,
        pytest.raises(RuntimeError, match=r"reached for the network \(socket.connect"),
    ):
        line.connect((host, 9))


def test_a_test_that_looks_a_host_up_is_stopped() -> None:
    with pytest.raises(RuntimeError, match=r"reached for the network \(socket.getaddrinfo"):
        socket.getaddrinfo("localhost", 80)


def test_a_test_that_opens_a_port_is_stopped() -> None:
    with (
        socket.socket() as line,
        pytest.raises(RuntimeError, match=r"reached for the network \(socket.bind"),
    ):
        line.bind(("127.0.0.1", 0))
