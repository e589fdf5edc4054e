"""``sillwright serve``, ``invite``, ``backup``, ``restore``: the web application from the command line."""

from __future__ import annotations

import ipaddress
import os
from collections.abc import Iterator
from pathlib import Path

import click

from sillwright.base.errors import InputError, OutputError
from sillwright.base.words import N_, say
from sillwright.cli.speech import HERE, said

PORT = 8045
DEMO_NAME = "sillwright-demo"
WHERE = Path("run") / "address"


@click.command("serve", epilog="Example: sillwright serve --example")
@click.option("--port", type=click.IntRange(0, 65535), default=PORT, show_default=True, help="0 takes a free one.")
@click.option("--host", default="127.0.0.1", show_default=True, help="The address to listen on.")
@click.option("--example", is_flag=True, help="Begin with an invented site, where nothing is kept yet.")
@click.option("--demo", is_flag=True, help="Invented accounts too, in a folder of their own; this machine only.")
def serve(port: int, host: str, example: bool, demo: bool) -> None:
    """Serve the web application until Control-C.

    Everything is kept in one folder: SILLWRIGHT_DATA, else sillwright-data here; with --demo sillwright-demo.
    Prints the address, and a link that makes the first account.
    """
    try:
        _serve(port, host, example, demo)
    except KeyboardInterrupt:  # before it was ready
        raise click.exceptions.Exit(130) from None


def _serve(port: int, host: str, example: bool, demo: bool) -> None:
    if demo:
        _refuse_a_demo_for_others(host)
    from sillwright.web.serving.folder import NAME, alone_in, data_folder, set_up, use

    folder = data_folder(DEMO_NAME if demo else NAME)
    use(folder)
    with alone_in(folder):
        from sillwright.web.serving.preparing import let_go, prepare
        from sillwright.web.serving.running import listening, load
        from sillwright.web.serving.running import serve as answer
        from sillwright.web.serving.warming import warming

        listener = listening(host, port)
        address = _address(host, listener.getsockname()[1])
        click.echo(said(HERE, N_("Sillwright: {address}"), address=address))
        click.echo(said(HERE, N_("Data: {folder}"), folder=folder))
        set_up()
        prepare(folder)
        (folder / WHERE).write_text(address, "ascii")
        for line in _first_steps(address, example, demo):
            click.echo(line)
        _refuse_to_show_a_demo(host)
        for line in cautions(host):
            click.echo(line)
        load()
        let_go()
        with warming():
            answer(listener, lambda: click.echo(said(HERE, N_("Ready. Control-C ends it."))))


def cautions(host: str) -> list[str]:
    """What has to be known of serving at this address."""
    return [] if _loopback(host) else [said(HERE, PLAIN_HTTP)]


PLAIN_HTTP = N_(
    "This listens beyond this machine, without encryption: passkeys do not work so, and passwords can be read on "
    "the way. SILLWRIGHT_HOSTS has to name the host that people type. Better: a proxy that speaks TLS in front, "
    "and SILLWRIGHT_TLS=1."
)


def _refuse_a_demo_for_others(host: str) -> None:
    if not _loopback(host):
        raise InputError(say(N_("--demo shows passwords and serves this machine alone; leave --host out")))
    if os.environ.get("DATABASE_URL"):
        raise InputError(say(N_("--demo keeps to a folder of its own; run it without DATABASE_URL")))


def _refuse_to_show_a_demo(host: str) -> None:
    from sillwright.web.serving.firsts import is_demonstration

    if (not _loopback(host) or os.environ.get("SILLWRIGHT_HOSTS")) and is_demonstration():
        why = N_("here are accounts of a demonstration: they are served to this machine alone; use another folder")
        raise OutputError(say(why))


def _first_steps(address: str, example: bool, demo: bool) -> Iterator[str]:
    from sillwright.web.serving.firsts import first_link, public_address, take_in_example
    from sillwright.web.serving.preparing import plain_errors

    with plain_errors():
        if demo:
            yield from _demo_accounts()
        elif example:
            take_in_example()
        if link := first_link(public_address(address)):
            yield said(HERE, N_("Make the first account here, within fourteen days: {link}"), link=link)


def _demo_accounts() -> Iterator[str]:
    from sillwright.web.serving.firsts import demonstration, is_demonstration

    made = demonstration()
    if not made and not is_demonstration():
        raise InputError(say(N_("people have accounts in this folder already; --demo takes an empty one")))
    again = N_("The passwords were shown at the first start; for new ones delete the folder and start again.")
    yield said(HERE, N_("Invented accounts, shown this once:") if made else again)
    yield from (f"  {account.email}  {account.password}" for account in made)


def _address(host: str, port: int) -> str:
    shown = f"[{host}]" if ":" in host else host
    return f"http://{shown}:{port}"


def _loopback(host: str) -> bool:
    try:
        return host == "localhost" or ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


@click.command("invite", epilog='Example: sillwright invite --organisation "Harbour Doors"')
@click.option("--organisation", default="", help="Whose owner it makes; needed where there are several.")
def invite(organisation: str) -> None:
    """Print a link that makes somebody an owner.

    The first one, or another one where no owner can sign in any more. It works once, within fourteen days.
    """
    from sillwright.web.serving.firsts import owner_link, public_address
    from sillwright.web.serving.preparing import plain_errors, ready

    folder = _there()
    with plain_errors():
        ready(folder)
        noted = folder / WHERE
        here = noted.read_text("ascii") if noted.exists() else _address("127.0.0.1", PORT)
        click.echo(owner_link(public_address(here), organisation))


@click.command("backup", epilog="Example: sillwright backup doors.tar")
@click.argument("file", type=click.Path(path_type=Path))
def backup(file: Path) -> None:
    """Write everything that is kept to FILE, while the server runs.

    Database, papers and photos, with a digest of each part. Sessions are left out; keep the file as you keep the
    data.
    """
    from sillwright.web.serving.backup import write_backup

    count = write_backup(_there(), file)
    words = N_("{file}: {rows} rows, {papers} papers, {photos} photos")
    click.echo(said(HERE, words, file=file, rows=count.rows, papers=count.papers, photos=count.photos))
    if count.odd:
        words = N_("{count} papers or photos have no file any more and are not in it")
        click.echo(said(HERE, words, count=count.odd), err=True)


@click.command("restore", epilog="Example: sillwright restore doors.tar")
@click.argument("file", type=click.Path(path_type=Path))
def restore(file: Path) -> None:
    """Read the backup FILE into an empty data folder, and into an empty database.

    Refused where anything is there already, or where a digest differs; then nothing is changed. Afterwards
    everybody signs in again.
    """
    from sillwright.web.serving.folder import alone_in, data_folder
    from sillwright.web.serving.restore import read_backup

    folder = data_folder()
    with alone_in(folder):
        count = read_backup(folder, file)
    words = N_("{file}: {rows} rows, {papers} papers and {photos} photos are in {folder}")
    click.echo(
        said(HERE, words, file=file, rows=count.rows, papers=count.papers, photos=count.photos, folder=folder)
    )
    if count.odd:
        words = N_("{count} facts were not what the log says and were made anew from it")
        click.echo(said(HERE, words, count=count.odd), err=True)


def _there() -> Path:
    """The data folder with Django loaded on it; it is not made."""
    from sillwright.web.serving.folder import existing_folder, set_up, use

    folder = existing_folder()
    use(folder)
    set_up()
    return folder
