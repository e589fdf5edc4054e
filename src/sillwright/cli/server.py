"""``sillwright serve``, ``backup``, ``restore``: the web application from the command line."""

from __future__ import annotations

import ipaddress
import os
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sillwright.base.errors import InputError
from sillwright.base.words import N_, say

if TYPE_CHECKING:
    from sillwright.web.serving.preparing import Account

PORT = 8045
DEMO_NAME = "sillwright-demo"


@click.command(
    "serve",
    epilog="Example: sillwright serve --demo --port 8045",
)
@click.option("--port", type=click.IntRange(0, 65535), default=PORT, show_default=True, help="0 takes a free one.")
@click.option("--host", default="127.0.0.1", show_default=True, help="The address to listen on.")
@click.option("--demo", is_flag=True, help="An invented site, and accounts whose passwords are shown once.")
def serve(port: int, host: str, demo: bool) -> None:
    """Serve the web application.

    Everything is kept in one folder: SILLWRIGHT_DATA, else sillwright-data here; with --demo sillwright-demo here,
    and on the loopback address only. Prints the address, and how to make the first account.
    """
    if demo and not _loopback(host):
        raise InputError(say(N_("--demo shows passwords and serves this machine alone; leave --host out")))
    if demo:
        os.environ.setdefault("SILLWRIGHT_DATA", DEMO_NAME)
    from sillwright.web.serving.folder import alone_in, data_folder, use
    from sillwright.web.serving.running import listening
    from sillwright.web.serving.running import serve as answer

    folder = data_folder()
    use(folder)
    with alone_in(folder):
        listener = listening(host, port)
        address = _address(host, listener.getsockname()[1])
        click.echo(say(N_("Serving {address}"), address=address))
        click.echo(say(N_("Data: {folder}"), folder=folder))
        for line in _prepared(address, demo):
            click.echo(line)
        if not _loopback(host):
            click.echo(say(PLAIN_HTTP))
        click.echo(say(N_("Ready. Control-C ends it.")))
        answer(listener)


PLAIN_HTTP = N_(
    "This listens beyond this machine, without encryption: passkeys do not work so, and passwords can be read on "
    "the way. Put a proxy that speaks TLS in front, set SILLWRIGHT_TLS=1 and name the host in SILLWRIGHT_HOSTS."
)


def _prepared(address: str, demo: bool) -> list[str]:
    from sillwright.web.serving.preparing import demonstration, first_link, prepare, set_up

    set_up()
    prepare()
    lines = [*map(_told, demonstration())] if demo else []
    if lines:
        return [say(N_("Accounts of this demonstration, shown this once:")), *lines]
    if link := first_link():
        return [say(N_("Make the first account here, within fourteen days: {link}"), link=f"{address}{link}")]
    return []


def _told(account: Account) -> str:
    return f"  {account.email}  {account.password}"


def _address(host: str, port: int) -> str:
    shown = f"[{host}]" if ":" in host else host
    return f"http://{shown}:{port}"


def _loopback(host: str) -> bool:
    try:
        return host == "localhost" or ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


@click.command("backup", epilog="Example: sillwright backup doors.tar")
@click.argument("file", type=click.Path(path_type=Path))
def backup(file: Path) -> None:
    """Write everything that is kept to one file, while the server runs.

    Database and papers, with a digest of each part. Sessions are left out; keep the file as you keep the data.
    """
    from sillwright.web.serving.backup import write_backup
    from sillwright.web.serving.folder import data_folder, use
    from sillwright.web.serving.preparing import set_up

    folder = data_folder()
    use(folder)
    set_up()
    count = write_backup(folder, file)
    click.echo(say(N_("{file}: {rows} rows and {papers} papers"), file=file, rows=count.rows, papers=count.papers))


@click.command("restore", epilog="Example: SILLWRIGHT_DATA=anew sillwright restore doors.tar")
@click.argument("file", type=click.Path(path_type=Path))
def restore(file: Path) -> None:
    """Read a backup into an empty data folder, and into an empty database.

    Refused where anything is there already, or where a digest differs; then nothing is changed.
    """
    from sillwright.web.serving.folder import alone_in, data_folder, use
    from sillwright.web.serving.preparing import set_up
    from sillwright.web.serving.restore import read_backup

    folder = data_folder()
    use(folder)
    with alone_in(folder):
        set_up()
        count = read_backup(folder, file)
    click.echo(
        say(N_("{file}: {rows} rows and {papers} papers are here"), file=file, rows=count.rows, papers=count.papers)
    )
