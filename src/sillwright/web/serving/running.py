"""The server itself: gunicorn with threads, in this process."""

from __future__ import annotations

import socket
from collections.abc import Callable
from functools import cache
from importlib import import_module
from importlib.resources import files
from typing import Any

from gunicorn.app.base import BaseApplication
from gunicorn.arbiter import Arbiter
from gunicorn.glogging import Logger

from sillwright.base.errors import OutputError
from sillwright.base.words import N_, say
from sillwright.web.log_lines import Lines

WORKERS, THREADS = 2, 4  # two threads a worker answer as many; four leave room for phones that send slowly
LONGEST = 60  # s, of a request
LEAVING = 20  # s, for requests under way when the server ends
QUEUE = 256  # connections that wait


def listening(host: str, port: int) -> socket.socket:
    """A listening socket; port 0 takes a free one.

    Raises :class:`OutputError` where the port is taken or the address is not this machine's.
    """
    asked = socket.socket(socket.AF_INET6 if ":" in host else socket.AF_INET)
    asked.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        asked.bind((host, port))
        asked.listen(QUEUE)
    except OSError as error:
        asked.close()
        said = N_("{host}:{port}: cannot be listened on ({why}); choose another port with --port")
        raise OutputError(say(said, host=host, port=port, why=error.strerror)) from None
    return asked


class Chief(Arbiter):  # type: ignore[misc]
    """Starts workers and ends them."""

    def handle_hup(self) -> None:
        """The terminal was closed: end, as on the signal to terminate."""
        self.handle_term()


class AsLines(Logger):  # type: ignore[misc]
    """What gunicorn logs, as the lines of the application: no address, which may hold a token."""

    def setup(self, cfg: Any) -> None:
        """Called with the settings."""
        super().setup(cfg)
        for handler in self.error_log.handlers:
            handler.setFormatter(Lines())


class Server(BaseApplication):  # type: ignore[misc]
    """gunicorn as a part of the command, with our settings."""

    def __init__(self, descriptor: int, ready: Callable[[], None]) -> None:
        self.descriptor = descriptor
        self.ready = ready
        super().__init__()

    def load_config(self) -> None:
        """Our settings; none of the environment or of files."""
        settings = {
            "bind": f"fd://{self.descriptor}",
            "workers": WORKERS,
            "threads": THREADS,
            "worker_class": "gthread",
            "preload_app": True,
            "timeout": LONGEST,
            "graceful_timeout": LEAVING,
            "keepalive": 15,
            "loglevel": "warning",
            "logger_class": AsLines,
            "control_socket_disable": True,
            "when_ready": lambda _chief: self.ready(),
        }
        for name, value in settings.items():
            self.cfg.set(name, value)

    def load(self) -> Any:
        """The application."""
        return import_module("sillwright.web.wsgi").application

    def run(self) -> None:
        """Answer until told to stop; leaves by :class:`SystemExit`."""
        Chief(self).run()


@cache
def load() -> None:
    """Load once all that a first request would load, so that workers share it: modules, templates, rules."""
    for name in ("sillwright.web.urls", "sillwright.web.wsgi"):
        import_module(name)
    from django.template.loader import get_template

    from sillwright.study import study_opening
    from sillwright.survey.reading import survey_of

    get_template("base.html")
    invented = survey_of((files("sillwright.web") / "data" / "demo.yaml").read_bytes(), "demo.yaml")
    study_opening(invented.site, invented.openings[0])


def serve(listener: socket.socket, ready: Callable[[], None]) -> None:
    """Answer until told to stop; ``ready`` is called once signals are heard."""
    Server(listener.detach(), ready).run()
