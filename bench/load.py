"""A closed loop of clients on one thread: each sends its next request when the last is answered. Loopback only."""

from __future__ import annotations

import re
import selectors
import socket
import time
from collections.abc import Callable
from dataclasses import dataclass, field

LENGTH = re.compile(rb"content-length: (\d+)", re.IGNORECASE)
Make = Callable[[], bytes]
Note = Callable[[bytes, int, bytes], None]


@dataclass
class Load:
    """What came of it."""

    seconds: float = 0.0
    times: list[float] = field(default_factory=list)
    wrong: int = 0

    @property
    def rate(self) -> float:
        """Answers a second."""
        return len(self.times) / self.seconds if self.seconds else 0.0

    def quantile(self, share: float) -> float:
        """The time within which this share was answered, in milliseconds."""
        ordered = sorted(self.times)
        return 1000 * ordered[min(len(ordered) - 1, int(share * len(ordered)))] if ordered else float("nan")


class _Client:
    def __init__(self, port: int, make: Make) -> None:
        self.port, self.make = port, make
        self.connect()

    def connect(self) -> None:
        self.socket = socket.create_connection(("127.0.0.1", self.port), timeout=20)
        self.socket.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        self.buffer = bytearray()

    def send(self) -> None:
        self.request = self.make()
        self.began = time.perf_counter()
        self.wanted = -1
        self.buffer.clear()
        self.socket.sendall(self.request)

    def receive(self) -> bytes | None:
        """The whole answer once it is there."""
        got = self.socket.recv(262_144)
        if not got:
            raise ConnectionError("closed")
        self.buffer += got
        if self.wanted < 0:
            end = self.buffer.find(b"\r\n\r\n")
            if end < 0:
                return None
            found = LENGTH.search(self.buffer, 0, end)
            if not found:
                raise ConnectionError("an answer without a length")
            self.wanted = end + 4 + int(found[1])
        return bytes(self.buffer) if len(self.buffer) >= self.wanted else None


def run(port: int, clients: int, seconds: float, make: Make, note: Note | None = None, wanted: int = 200) -> Load:
    """Keep this many clients busy for so long; ``note`` gets each request, status and answer."""
    load, watch = Load(), selectors.DefaultSelector()
    everyone = [_Client(port, make) for _ in range(clients)]
    for each in everyone:
        watch.register(each.socket, selectors.EVENT_READ, each)
        each.send()
    began = time.perf_counter()
    until, waiting = began + seconds, set(everyone)
    while waiting:
        if time.perf_counter() > until + 20:
            load.wrong += len(waiting)
            break
        for key, _ in watch.select(timeout=1):
            client: _Client = key.data
            answer = client.receive()
            if answer is None:
                continue
            now = time.perf_counter()
            status = int(answer[9:12])
            load.times.append(now - client.began)
            load.wrong += status != wanted
            if note:
                note(client.request, status, answer)
            if now < until:
                _again(client, answer, watch)
            else:
                waiting.discard(client)
    load.seconds = time.perf_counter() - began
    for each in everyone:
        each.socket.close()
    return load


def _again(client: _Client, answer: bytes, watch: selectors.BaseSelector) -> None:
    if b"connection: close" in answer[:1000].lower():
        watch.unregister(client.socket)
        client.socket.close()
        client.connect()
        watch.register(client.socket, selectors.EVENT_READ, client)
    client.send()
